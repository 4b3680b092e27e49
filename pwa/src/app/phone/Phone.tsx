import { status, update } from '../../engine/client';
import { Button, Page, Settings, TakeUpdate } from '../../ui';
import { t } from '../../words';
import { Fit } from '../screen/Fit';
import { Connection } from '../start/Connection';
import { Another } from './Another';
import { Import } from './Import';
import { Kept } from './Kept';
import { Leave } from './Leave';
import { Mine } from './Mine';
import './phone.css';
import { Running } from './Running';
import { Sending } from './Sending';
import { Share } from './Share';
import { Sync } from './Sync';

/** /phone: this device: whose it is, what it keeps, what is not sent, how it runs and looks. */
export function Phone() {
  const { me } = status.value;
  return (
    <Page title={t('phone.title')} back="/" act={<Sync />}>
      <p class="strong">{me ? t('phone.who', { name: me.person.name, device: me.device.name }) : t('phone.nobody')}</p>
      {me && status.value.signedOut && <SignedOut />}
      {update.value && <TakeUpdate />}
      <Connection />
      <div class="phone-parts">
        <Sending />
        <Kept />
        <Running />
        <Import />
        <Held />
        <Fit />
        <section class="phone-part" aria-label={t('phone.settings')}>
          <h2>{t('phone.settings')}</h2>
          <Settings />
        </section>
      </div>
      <Button kind="quiet" href="/report">
        {t('phone.report')}
      </Button>
      <Share />
      <Another />
      <Mine />
      {me && <Leave />}
    </Page>
  );
}

function SignedOut() {
  return (
    <section class="phone-part" aria-label={t('start.pair')}>
      <p>{t('phone.signed-out')}</p>
      <Button href="/join">{t('start.pair')}</Button>
    </section>
  );
}

function Held() {
  const sites = status.value.me?.sites ?? [];
  if (sites.length === 0) return null;
  return (
    <section class="phone-part" aria-label={t('phone.sites')}>
      <h2>{t('phone.sites')}</h2>
      <ul>
        {sites.map((site) => (
          <li key={site.id}>{site.name}</li>
        ))}
      </ul>
    </section>
  );
}
