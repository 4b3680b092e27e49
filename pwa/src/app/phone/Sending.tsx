import { status } from '../../engine/client';
import { Button, Export } from '../../ui';
import { t } from '../../words';
import { ago, moment } from '../../words/when';

/** What was sent and what was not, findings and pictures apart, and how old the oldest of it is. */
export function Sending() {
  const { log, unsent, unsentPictures, oldest, oldestPicture, asides, synced } = status.value;
  if (log === '') return <Unknown />;
  return (
    <section class="phone-part" aria-label={t('phone.sending')}>
      <h2>{t('phone.sending')}</h2>
      <p>
        {unsent === 0 ? t('phone.all-sent') : t('phone.unsent', { n: unsent })}{' '}
        {oldest && t('phone.oldest', { time: ago(oldest) })}
      </p>
      <p>
        {unsentPictures === 0 ? t('phone.pictures-sent') : t('phone.pictures', { n: unsentPictures })}{' '}
        {oldestPicture && t('phone.oldest-picture', { time: ago(oldestPicture) })}
      </p>
      <p class="small soft">{synced ? t('phone.last-sync', { time: moment(synced) }) : t('phone.never-sync')}</p>
      {asides > 0 && <p class="wrong">{t('phone.asides', { n: asides })}</p>}
      {asides > 0 && <Button href="/asides">{t('phone.asides-open')}</Button>}
      {unsent + unsentPictures > 0 && (
        <>
          <p class="small soft">{t('export.what')}</p>
          <Export />
        </>
      )}
    </section>
  );
}

/** Before the records are open, or where another tab holds them: nobody here knows what is unsent. */
function Unknown() {
  return (
    <section class="phone-part" aria-label={t('phone.sending')}>
      <h2>{t('phone.sending')}</h2>
      <p>{t('phone.sending-unknown')}</p>
    </section>
  );
}
