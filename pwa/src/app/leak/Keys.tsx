import { useEffect, useRef } from 'preact/hooks';
import { NumberPad } from '../../ui';
import { entered, entry, type LeakDraft, type Target } from './observation';
import { inInches } from './size';

interface Props {
  draft: LeakDraft;
  /** What is typed. */
  target: Target;
  onDraft: (draft: LeakDraft) => void;
}

/** The keys of a number, under what they type; brought above the act where that would cover them. */
export function Keys({ draft, target, onDraft }: Props) {
  const keys = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const box = keys.current;
    if (box === null) return;
    box.style.scrollMarginBottom = `${document.querySelector<HTMLElement>('.act')?.offsetHeight ?? 0}px`;
    box.scrollIntoView({ block: 'nearest' });
  }, [target]);
  return (
    <div ref={keys}>
      <NumberPad
        value={entry(draft, target)}
        decimal={target !== 'count'}
        fraction={target === 'height' ? draft.heightUnit === 'in' : target === 'size' && inInches(draft)}
        onChange={(text) => onDraft(entered(draft, target, text))}
      />
    </div>
  );
}
