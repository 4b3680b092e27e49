import { useEffect, useState } from 'preact/hooks';
import { Page } from '../../ui';
import { t } from '../../words';
import { ago, moment } from '../../words/when';
import { Certificate } from './Certificate';
import './desk.css';
import { deviceName, Devices, nameOf } from './Devices';
import { refusal } from './sites';
import { type LostLog, upkeep, type Upkeep as Known } from './upkeep';

/** ms: a nightly copy that is older than this was missed. */
const late = 36 * 3_600_000;

/** /upkeep: what a supervisor should know of the installation: the age of the copy, the certificate, devices, logs that were lost. */
export function Upkeep() {
  const [known, setKnown] = useState<Known | null>(null);
  const [wrong, setWrong] = useState('');
  const look = () => upkeep().then(setKnown, (fault: unknown) => setWrong(refusal(fault)));
  useEffect(() => {
    void look();
  }, []);
  return (
    <Page title={t('upkeep.title')} back="/">
      {wrong !== '' && <p class="wrong" role="alert">{wrong}</p>}
      {known && (
        <>
          <Copied at={known.copied} />
          <Certificate at={known.connection} />
          <Lost logs={known.lost} />
          <Devices title={t('upkeep.devices')} devices={known.devices} onChange={() => void look()} />
        </>
      )}
    </Page>
  );
}

function Copied({ at }: { at: string | null }) {
  if (at === null) return <p class="wrong">{t('upkeep.never-copied')}</p>;
  const old = Date.now() - new Date(at).getTime() > late;
  return <p class={old ? 'wrong' : 'strong'}>{t(old ? 'upkeep.copied-late' : 'upkeep.copied', { time: moment(at), age: ago(at) })}</p>;
}

function Lost({ logs }: { logs: readonly LostLog[] }) {
  if (logs.length === 0) return null;
  return (
    <section class="form" aria-label={t('upkeep.lost')}>
      <h2>{t('upkeep.lost')}</h2>
      <ul class="desk-rows">
        {logs.map(({ log, name, person, told, upto, at }) => (
          <li key={log} class="joint-row">
            <p class="strong">{t('upkeep.lost-of', { n: told - upto, name: deviceName(name), person: nameOf(person) })}</p>
            <p class="small soft">{t('upkeep.lost-since', { time: moment(at), told, upto })}</p>
          </li>
        ))}
      </ul>
      <p class="small">{t('upkeep.lost-what')}</p>
    </section>
  );
}
