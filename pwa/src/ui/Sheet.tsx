import type { ComponentChildren } from 'preact';
import { t } from '../words';
import { Button } from './Button';
import { useModal } from './useModal';

interface Props {
  title: string;
  onClose: () => void;
  children: ComponentChildren;
}

/** More to choose, risen from the bottom edge. It holds the focus until closed. */
export function Sheet({ title, onClose, children }: Props) {
  const box = useModal();
  return (
    <dialog class="sheet" ref={box} onClose={() => box.current && onClose()} aria-label={title}>
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
