import { useEffect, useState } from 'preact/hooks';
import { status } from '../../engine/client';
import { Button, Page } from '../../ui';
import { t } from '../../words';
import { Connection, whyNotOffline } from './Connection';
import { hello } from './door';
import { Install } from './Install';
import { placeOf, shortLived, traits } from './install';
import { PairForm } from './PairForm';
import './start.css';

/** What a device that is not paired sees on "/": how to come in. */
export function Start() {
  const [first, setFirst] = useState(status.value.needsSetup);
  useEffect(() => {
    void hello().then((answer) => setFirst(answer.needsSetup), () => undefined);
  }, []);
  return (
    <Page title={t('start.title')}>
      <div class="says lead">
        <p>{t('start.lead')}</p>
        <p>{t(status.value.unsent > 0 ? 'start.lost' : first ? 'start.first' : 'start.how')}</p>
      </div>
      <p class="soft">{t('start.what')}</p>
      <Connection />
      {first ? <Button href="/setup">{t('start.setup-open')}</Button> : <ComeIn />}
    </Page>
  );
}

function ComeIn() {
  const [here, setHere] = useState(!shortLived() && (placeOf(traits()) !== 'phone' || whyNotOffline() !== null));
  const home = () => location.assign('/');
  if (here) return <PairForm given={null} scanning={placeOf(traits()) === 'app'} onPaired={home} />;
  return (
    <div class="pair-acts">
      <Install />
      <Button kind="plain" onPress={() => setHere(true)}>
        {t('join.here')}
      </Button>
    </div>
  );
}
