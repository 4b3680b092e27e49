import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { t } from '../words';
import { Button } from './Button';

interface Props {
  title: string;
  onClose: () => void;
  children: ComponentChildren;
}

/** More to choose, risen from the bottom edge. It holds the focus until closed. */
export function Sheet({ title, onClose, children }: Props) {
  const box = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    box.current?.showModal();
  }, []);
  return (
    <dialog class="sheet" ref={box} onClose={onClose} aria-label={title}>
      <div class="inner">
        <h2>{title}</h2>
        {children}
        <Button kind="plain" onPress={() => box.current?.close()}>
          {t('close')}
        </Button>
      </div>
    </dialog>
  );
}
