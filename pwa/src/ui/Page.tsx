import type { ComponentChildren } from 'preact';
import { useEffect, useLayoutEffect, useRef } from 'preact/hooks';
import { t } from '../words';
import { AsideChip, Chip, HolderChip, StorageNotice } from './Chip';
import { HelpLink, type Topic } from './HelpLink';
import './page.css';
import { Undo } from './Undo';
import { useRoom } from './useRoom';

interface Props {
  title: string;
  /** Where back leads; none on the first page. */
  back?: string;
  /** What of the help explains this page: a "?" beside its title. */
  help?: Topic;
  /** The main act and what stands beside it: at the bottom, in the full width. */
  act?: ComponentChildren;
  children: ComponentChildren;
}

/** A screen: the chip and the title above, the content, the main act at the thumb. */
export function Page({ title, back, help, act, children }: Props) {
  const heading = useTold();
  const foot = useRoom();
  useEffect(() => {
    document.title = t('page.title', { name: title });
  }, [title]);
  return (
    <div class="page">
      <nav class="top" aria-label={t('chip.bar')}>
        <Chip />
        <AsideChip />
        <HolderChip />
      </nav>
      <header>
        <StorageNotice />
        {back !== undefined && <Back href={back} />}
        <h1 ref={heading} tabIndex={-1}>{title}</h1>
        {help !== undefined && <HelpLink topic={help} />}
      </header>
      <main>{children}</main>
      <footer class="act" ref={foot} tabIndex={-1}>
        <Undo />
        {act}
      </footer>
    </div>
  );
}

/** Whether a screen was shown before. */
let begun = false;

/**
 * The heading takes the focus that goes away with the screen before, so that it is read out and the keyboard goes on from there. What has the
 * focus on this screen keeps it; the screen before may stand there for a moment still.
 */
function useTold() {
  const heading = useRef<HTMLHeadingElement>(null);
  useLayoutEffect(() => {
    const here = heading.current?.closest('.page')?.contains(document.activeElement);
    if (begun && !here) heading.current?.focus({ preventScroll: true });
    begun = true;
  }, []);
  return heading;
}

function Back({ href }: { href: string }) {
  return (
    <a class="back" href={href} aria-label={t('back')}>
      <svg viewBox="0 0 24 24" aria-hidden="true" focusable="false">
        <path d="M15 4 7 12l8 8" fill="none" stroke="currentColor" stroke-width="3" />
      </svg>
    </a>
  );
}
