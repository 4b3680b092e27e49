import { useLayoutEffect, useRef } from 'preact/hooks';

/** A dialog that lies over the page while it is drawn. However it goes, the focus is back where it was before. */
export function useModal() {
  const box = useRef<HTMLDialogElement>(null);
  // Layout: it has to be closed while it is still there.
  useLayoutEffect(() => {
    const dialog = box.current;
    dialog?.showModal();
    return () => dialog?.close();
  }, []);
  return box;
}
