import type { ComponentChildren } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import { t } from '../../words';

interface Props {
  label: string;
  children: ComponentChildren;
}

/**
 * The whole screen while counting runs: nothing else can be pressed, scrolled or left. The back gesture is answered, not
 * followed; a second one leaves, and the draft is kept.
 */
export function Locked({ label, children }: Props) {
  const box = useRef<HTMLDialogElement>(null);
  const [asked, setAsked] = useState(false);
  const show = () => box.current?.isConnected && !box.current.open && box.current.showModal();
  useEffect(() => {
    show();
    return stay(() => setAsked(true));
  }, []);
  const ask = (event: Event) => {
    event.preventDefault();
    setAsked(true);
  };
  return (
    <dialog class="locked" ref={box} aria-label={label} onCancel={ask} onClose={show}>
      {asked && (
        <p class="wrong locked-asked" role="alert">
          {t('leak.endFirst')}
        </p>
      )}
      {children}
    </dialog>
  );
}

/** Puts a page of its own into the history, so that going back goes nowhere, until the returned function is called. */
function stay(went: () => void): () => void {
  const here = () => history.pushState(history.state, '', location.href);
  const back = () => {
    here();
    went();
  };
  history.scrollRestoration = 'manual'; // the page stays where whoever counts has gone on
  here();
  addEventListener('popstate', back);
  return () => {
    removeEventListener('popstate', back);
    addEventListener('popstate', () => (history.scrollRestoration = 'auto'), { once: true });
    history.back();
  };
}
