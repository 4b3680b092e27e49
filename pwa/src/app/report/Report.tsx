import { useEffect, useState } from 'preact/hooks';
import { appVersion, status } from '../../engine/client';
import { noted } from '../../engine/errors';
import { Button, Field, Page } from '../../ui';
import { give } from '../../ui/give';
import { t } from '../../words';
import type { Say } from '../../words/help';
import { useSay } from '../help/useSay';
import { useDraft } from '../useDraft';
import { deviceNow, dressNow } from './device';
import './report.css';
import { type Device, reportText } from './report';

/** /report: what a report about a problem would tell, shown whole, before the person gives it to somebody. */
export function Report() {
  const say = useSay();
  const [device, setDevice] = useState<Device | null>(null);
  useEffect(() => void deviceNow().then(setDevice), []);
  if (say === null || device === null) return <Page title={t('phone.report')} back="/phone">{null}</Page>;
  return <Shown say={say} device={device} />;
}

function Shown({ say, device }: { say: Say; device: Device }) {
  const words = useDraft('report', () => '');
  const [at] = useState(() => new Date().toISOString());
  const [name, setName] = useState('');
  const text = reportText({ at, app: appVersion, status: status.value, device, dress: dressNow(), errors: noted(), words: words.value ?? '' });
  const go = async () => {
    const file = new File([text], `jointwalk-report-${at.slice(0, 10)}.txt`, { type: 'text/plain' });
    await give(file);
    setName(file.name);
    words.clear();
  };
  const act = (
    <Button kind="main" onPress={() => void go()}>
      {say('report.go')}
    </Button>
  );
  return (
    <Page title={t('phone.report')} back="/phone" act={act}>
      <p class="strong">{say('report.lead')}</p>
      {name !== '' && <p role="status">{say('report.done', { name })}</p>}
      <Field type="textarea" label={say('report.words')} hint={say('report.hint')} value={words.value ?? ''} onInput={words.set} />
      <section class="report" aria-label={say('report.whole')}>
        <h2>{say('report.whole')}</h2>
        <pre class="small">{text}</pre>
      </section>
    </Page>
  );
}
