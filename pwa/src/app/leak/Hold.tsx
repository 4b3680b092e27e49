import { useEffect, useId, useRef, useState } from 'preact/hooks';
import { t } from '../../words';
import { holder } from './holder';

interface Props {
  words: string;
  disabled?: boolean;
  onDone: () => void;
}

/**
 * A main act that wet glass cannot press by itself: it wants to be held, and fills meanwhile. A key is held, or pressed
 * twice; what a screen reader presses is meant, and done at once.
 */
export function Hold({ words, disabled = false, onDone }: Props) {
  const [says, setSays] = useState<'hold' | 'holdOn' | 'holdAgain'>('hold');
  const id = useId();
  const box = useRef<HTMLButtonElement>(null);
  const done = useRef(onDone);
  done.current = onDone;
  useEffect(() => {
    const button = box.current;
    return disabled || button === null ? undefined : holder(button, setSays, () => done.current());
  }, [disabled]);
  return (
    <button type="button" class="button main hold" ref={box} disabled={disabled} aria-label={words} aria-describedby={disabled ? undefined : id}>
      <span>
        {words}
        {!disabled && (
          <span class="small hold-says" id={id}>
            {t(`leak.${says}`)}
          </span>
        )}
      </span>
    </button>
  );
}
