import { useEffect, useState } from 'preact/hooks';
import { Button, Choice, Field, Page } from '../../ui';
import { t } from '../../words';
import { Connection } from './Connection';
import { hello, setUp } from './door';
import { wordsOf } from './fault';
import { deviceKind, traits } from './install';
import { Wrong } from './PairForm';
import './start.css';

/** /setup#CODE: the first person of an installation, and what to begin with. */
export function Setup() {
  const linked = location.hash.slice(1);
  const [code, setCode] = useState(linked);
  const [name, setName] = useState('');
  const [device, setDevice] = useState(t(`start.device-${deviceKind(traits())}`));
  const [begin, setBegin] = useState<'empty' | 'example'>('example');
  const [wrong, setWrong] = useState('');
  const [busy, setBusy] = useState(false);
  const done = useDone();
  const go = async () => {
    setBusy(true);
    setWrong('');
    try {
      await setUp({ code: code.trim(), name: name.trim(), device: device.trim(), example: begin === 'example' });
      location.assign('/');
    } catch (fault) {
      setWrong(wordsOf(fault));
      setBusy(false);
    }
  };
  const ready = code.trim() !== '' && name.trim() !== '' && device.trim() !== '' && !busy;
  const act = (
    <Button kind="main" disabled={!ready} onPress={() => void go()}>
      {t(busy ? 'setup.going' : 'setup.go')}
    </Button>
  );
  if (done) return <AlreadyDone />;
  return (
    <Page title={t('setup.title')} act={act}>
      <p class="strong">{t('setup.lead')}</p>
      <Connection />
      <div class="pair">
        {linked === '' && <Field label={t('setup.code')} hint={t('setup.code-hint')} value={code} onInput={setCode} />}
        <Field label={t('setup.name')} value={name} onInput={setName} autocomplete="name" />
        <Field label={t('start.device')} hint={t('start.device-hint')} value={device} onInput={setDevice} />
        <Begin value={begin} onChoose={setBegin} />
        <Wrong words={wrong} />
      </div>
    </Page>
  );
}

function Begin({ value, onChoose }: { value: 'empty' | 'example'; onChoose: (value: 'empty' | 'example') => void }) {
  return (
    <div class="begin">
      <Choice
        legend={t('setup.with')}
        options={[
          { value: 'example', words: t('setup.example') },
          { value: 'empty', words: t('setup.empty') },
        ]}
        value={value}
        onChoose={onChoose}
      />
      <p class="small soft">{t(`setup.${value}-what`)}</p>
    </div>
  );
}

function AlreadyDone() {
  return (
    <Page title={t('setup.title')} back="/">
      <p class="strong">{t('setup.done')}</p>
    </Page>
  );
}

/** Whether somebody set this installation up before. */
function useDone(): boolean {
  const [done, setDone] = useState(false);
  useEffect(() => {
    void hello().then((answer) => setDone(!answer.needsSetup), () => undefined);
  }, []);
  return done;
}
