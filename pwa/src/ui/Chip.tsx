import { status } from '../engine/client';
import { t } from '../words';

/**
 * The truth about what was recorded: findings and, apart, pictures: offline,
 * sending, sent. "Sent" only when the server has said so. It leads to the page
 * about this phone.
 */
export function Chip() {
  const now = status.value;
  return (
    <a class="chip" href="/phone">
      <span>
        <Cloud full={now.unsent === 0 && now.reach === 'reached'} />
        {findings(now.reach, now.unsent)}
      </span>
      {now.unsentPictures > 0 && <span>{t('chip.pictures', { n: now.unsentPictures })}</span>}
      {now.asides > 0 && <span>{t('chip.asides', { n: now.asides })}</span>}
    </a>
  );
}

/** What is wrong with this phone's storage, where something is: it stays until mended. */
export function StorageNotice() {
  const now = status.value.storage;
  if (now === 'kept' || now === 'starting') return null;
  return (
    <p class="notice" role="alert">
      {t(`storage.${now}`)}
    </p>
  );
}

function findings(reach: string, unsent: number): string {
  if (reach === 'offline') return unsent === 0 ? t('chip.offline') : t('chip.offlineKept', { n: unsent });
  if (unsent > 0) return t('chip.sending', { n: unsent });
  return reach === 'reached' ? t('chip.sent') : t('chip.unknown');
}

function Cloud({ full }: { full: boolean }) {
  return (
    <svg viewBox="0 0 16 16" aria-hidden="true" focusable="false">
      <circle cx="8" cy="8" r="6" fill={full ? 'currentColor' : 'none'} stroke="currentColor" stroke-width="2" />
    </svg>
  );
}
