import { type Status, status } from '../engine/client';
import { known, said, t } from '../words';
import { doingWords } from './Exchange';
import { Export } from './Export';
import { TakeUpdate } from './TakeUpdate';

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
        {findings(now)}
      </span>
      {now.storage === 'full' && <span>{t('chip.full')}</span>}
      {now.doing && now.doing.what !== 'send' && <span class="doing">{doingWords(now.doing)}</span>}
      {now.paused && <span>{t('chip.paused')}</span>}
      {now.unsentPictures > 0 && <span>{t('chip.pictures', { n: now.unsentPictures })}</span>}
      {now.damage > 0 && <span>{t('chip.damage', { n: now.damage })}</span>}
      {now.lost > 0 && <span>{t('chip.lost', { n: now.lost })}</span>}
    </a>
  );
}

/** How many records were set aside; it leads to them. Nothing while there are none. */
export function AsideChip() {
  const { asides, revoked } = status.value;
  if (asides === 0 || revoked) return null;
  return (
    <a class="chip" href="/asides">
      {t('chip.asides', { n: asides })}
    </a>
  );
}

/** Who holds a phone that people share; it leads to handing it over. */
export function HolderChip() {
  const { me } = status.value;
  if (!me?.mates?.length) return null;
  return (
    <a class="chip" href="/who">
      {t('chip.holder', { name: me.person.name })}
    </a>
  );
}

/** What is wrong with keeping or sending, where something is: it stays until mended. */
export function StorageNotice() {
  const words = trouble(status.value);
  if (words === null) return null;
  const { storage, tooOld, unsent, unsentPictures } = status.value;
  return (
    <div class="notice">
      <p role="alert">{words}</p>
      {storage === 'memory' && unsent + unsentPictures > 0 && <Export />}
      {tooOld === 'app' && storage === 'kept' && <TakeUpdate />}
    </div>
  );
}

function trouble({ storage, problem, tooOld, unsent, unsentPictures }: Status): string | null {
  if (storage === 'memory' || storage === 'full' || storage === 'broken') return t(`storage.${storage}`);
  if (problem === 'storage-full') return t('storage.full');
  if (tooOld !== '') return known('old', tooOld) ? said('old', tooOld) : t('refused.other', { code: tooOld });
  if (problem === undefined || unsent + unsentPictures === 0) return null;
  return known('refused', problem) ? said('refused', problem) : t('refused.other', { code: problem });
}

function findings({ storage, log, me, reach, problem, tooOld, unsent, signedOut }: Status): string {
  if (log === '') return t(storage === 'starting' ? 'chip.starting' : 'chip.closed');
  if (signedOut && reach === 'reached' && me === null && unsent === 0) return t('chip.unpaired');
  if (signedOut && reach === 'reached') return t(unsent === 0 ? 'chip.signedOut' : 'chip.signedOutKept', { n: unsent });
  if (reach === 'offline') {
    if (unsent === 0) return t('chip.offline');
    return t(storage === 'memory' ? 'chip.offlineHeld' : 'chip.offlineKept', { n: unsent });
  }
  if (unsent > 0 && problem === 'server-full') return t('chip.serverFull', { n: unsent });
  if (unsent > 0) return t(problem === undefined && tooOld === '' ? 'chip.sending' : 'chip.refused', { n: unsent });
  if (reach === 'reached') return t('chip.sent');
  return t(storage === 'memory' ? 'chip.unreached' : 'chip.unknown');
}

function Cloud({ full }: { full: boolean }) {
  return (
    <svg viewBox="0 0 16 16" aria-hidden="true" focusable="false">
      <circle cx="8" cy="8" r="6" fill={full ? 'currentColor' : 'none'} stroke="currentColor" stroke-width="2" />
    </svg>
  );
}
