import type { ComponentChildren } from 'preact';
import { useEffect } from 'preact/hooks';
import { t } from '../words';
import { AsideChip, Chip, HolderChip, StorageNotice } from './Chip';
import './page.css';
import { Undo } from './Undo';

interface Props {
  title: string;
  /** Where back leads; none on the first page. */
  back?: string;
  /** The main act and what stands beside it: at the bottom, in the full width. */
  act?: ComponentChildren;
  children: ComponentChildren;
}

/** A screen: the chip and the title above, the content, the main act at the thumb. */
export function Page({ title, back, act, children }: Props) {
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
        <h1>{title}</h1>
      </header>
      <main>{children}</main>
      <footer class="act">
        <Undo />
        {act}
      </footer>
    </div>
  );
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
