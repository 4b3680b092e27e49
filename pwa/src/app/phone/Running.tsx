import { appVersion, status } from '../../engine/client';
import { t } from '../../words';
import { lasting } from '../../words/when';

/** ms: what a network and a person's watch differ by anyway. */
const near = 5_000;

/** How the app runs here: its clock beside the server's, the versions of both, stops of the engine. */
export function Running() {
  const { clockOffsetMs, version, server, restarts } = status.value;
  const served = server || version;
  return (
    <section class="phone-part" aria-label={t('phone.clock')}>
      <h2>{t('phone.clock')}</h2>
      <p>{clock(clockOffsetMs ?? null)}</p>
      <p>{restarts === 0 ? t('phone.restarts-none') : t('phone.restarts', { n: restarts })}</p>
      <p class="small soft">
        {t('phone.app', { code: appVersion })} · {served ? t('phone.server', { code: served }) : t('phone.server-unknown')}
      </p>
    </section>
  );
}

function clock(offset: number | null): string {
  if (offset === null) return t('phone.clock-unknown');
  if (Math.abs(offset) < near) return t('phone.clock-good');
  return t(offset > 0 ? 'phone.clock-ahead' : 'phone.clock-behind', { time: lasting(Math.abs(offset)) });
}
