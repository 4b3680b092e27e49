import { status } from '../../engine/client';
import { t } from '../../words';
import { Promised } from './Promised';
import { Space } from './Space';

/** What this device keeps: whether it does, whether it lasts, what was found damaged or gone. */
export function Kept() {
  const { storage, lost, damage, log } = status.value;
  const well = storage === 'kept' || storage === 'starting';
  return (
    <section class="phone-part" aria-label={t('phone.kept')}>
      <h2>{t('phone.kept')}</h2>
      {well && <p>{t(`phone.storage-${storage}`)}</p>}
      {!well && storage !== 'elsewhere' && <p>{t(`storage.${storage}`)}</p>}
      {lost > 0 && <p class="wrong">{t('phone.lost', { n: lost })}</p>}
      {damage > 0 && <p class="wrong">{t('phone.damage', { n: damage })}</p>}
      <LostLog />
      {storage !== 'memory' && <Promised />}
      <Space />
      {log && <p class="small soft">{t('phone.log', { code: short(log) })}</p>}
    </section>
  );
}

/** A log of this device that it no longer has, and whether the server has all of it. */
function LostLog() {
  const { lostLog } = status.value;
  if (!lostLog) return null;
  const { log, told, upto } = lostLog;
  const whole = upto >= told;
  return (
    <p class={whole ? undefined : 'wrong'}>
      {t(whole ? 'phone.lost-log-whole' : 'phone.lost-log', { code: short(log), told, upto })}
    </p>
  );
}

/** Enough of an id to tell it from another. */
function short(id: string): string {
  return id.slice(-8);
}
