import { useState } from 'preact/hooks';
import { Button, Page } from '../../ui';
import { t } from '../../words';
import { Connection, whyNotOffline } from './Connection';
import { Install } from './Install';
import { placeOf, shortLived, traits } from './install';
import { secretIn } from './invitation';
import { PairForm } from './PairForm';
import './start.css';

/**
 * /join#CODE: somebody was invited. In a phone's browser the app comes first and
 * pairing happens inside it, because what a browser page keeps is another store.
 */
export function Join() {
  const secret = secretIn(location.href);
  const [here, setHere] = useState(!shortLived() && (placeOf(traits()) !== 'phone' || whyNotOffline() !== null));
  return (
    <Page title={t('join.title')} back="/">
      <Connection />
      {here ? (
        <>
          <p class="strong">{t('join.lead')}</p>
          <PairForm given={secret} scanning={secret === null} onPaired={() => location.assign('/')} />
        </>
      ) : (
        <>
          <Install />
          <Button kind="plain" onPress={() => setHere(true)}>
            {t('join.here')}
          </Button>
        </>
      )}
    </Page>
  );
}
