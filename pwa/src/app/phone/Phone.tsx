import { status, takeUpdate, update } from '../../engine/client';
import { Button, Page, Settings } from '../../ui';
import { t } from '../../words';
import { moment } from '../../words/when';
import { Connection } from '../start/Connection';
import { Leave } from './Leave';
import './phone.css';
import { Promised } from './Promised';
import { Sync } from './Sync';

/** /phone: this device: whose it is, what it keeps, what is not sent, how it looks. */
export function Phone() {
  const { me, version } = status.value;
  return (
    <Page title={t('phone.title')} back="/" act={<Sync />}>
      <p class="strong">{me ? t('phone.who', { name: me.person.name, device: me.device.name }) : t('phone.nobody')}</p>
      {me && status.value.signedOut && <SignedOut />}
      <Connection />
      <Unsent />
      <Kept />
      <Held />
      <section class="phone-part" aria-label={t('phone.settings')}>
        <h2>{t('phone.settings')}</h2>
        <Settings />
      </section>
      {update.value && <Button onPress={() => void takeUpdate()}>{t('phone.update')}</Button>}
      {me && <Leave />}
      {version !== '' && <p class="small soft">{t('phone.version', { code: version })}</p>}
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

function Unsent() {
  const { unsent, unsentPictures, asides, synced } = status.value;
  return (
    <section class="phone-part" aria-label={t('phone.sending')}>
      <h2>{t('phone.sending')}</h2>
      <p>{unsent === 0 ? t('phone.all-sent') : t('phone.unsent', { n: unsent })}</p>
      <p>{unsentPictures === 0 ? t('phone.pictures-sent') : t('phone.pictures', { n: unsentPictures })}</p>
      <p class="small soft">{synced ? t('phone.last-sync', { time: moment(synced) }) : t('phone.never-sync')}</p>
      {asides > 0 && <p class="wrong">{t('phone.asides', { n: asides })}</p>}
    </section>
  );
}

function Kept() {
  const { storage, lost, damage } = status.value;
  return (
    <section class="phone-part" aria-label={t('phone.kept')}>
      <h2>{t('phone.kept')}</h2>
      {storage !== 'elsewhere' && (
        <p>{storage === 'kept' || storage === 'starting' ? t(`phone.storage-${storage}`) : t(`storage.${storage}`)}</p>
      )}
      {lost > 0 && <p class="wrong">{t('phone.lost', { n: lost })}</p>}
      {damage > 0 && <p class="wrong">{t('phone.damage', { n: damage })}</p>}
      <Promised />
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
