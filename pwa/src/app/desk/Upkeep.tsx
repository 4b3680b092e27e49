import { useEffect, useState } from 'preact/hooks';
import { status } from '../../engine/client';
import { Button, Page, Sheet } from '../../ui';
import { listed, t } from '../../words';
import { ago, day, moment } from '../../words/when';
import { called } from '../called';
import { Certificate } from './Certificate';
import './desk.css';
import { refusal } from './sites';
import { type KnownDevice, type LostLog, revoke, upkeep, type Upkeep as Known } from './upkeep';

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
          <Devices devices={known.devices} onChange={() => void look()} />
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

function Devices({ devices, onChange }: { devices: readonly KnownDevice[]; onChange: () => void }) {
  const [closing, setClosing] = useState<KnownDevice | null>(null);
  return (
    <section class="form" aria-label={t('upkeep.devices')}>
      <h2>{t('upkeep.devices')}</h2>
      <ul class="desk-rows">
        {devices.map((device) => (
          <li key={device.id} class="joint-row">
            <div>
              <p class="strong">
                {deviceName(device.name)} <span class="small soft">{listed(device.people.map(nameOf))}</span>
              </p>
              <p class="small soft">{seen(device)}</p>
            </div>
            {!device.revoked && device.id !== status.value.me?.device.id && (
              <Button kind="quiet" label={t('upkeep.revoke-of', { name: device.name })} onPress={() => setClosing(device)}>
                {t('upkeep.revoke')}
              </Button>
            )}
          </li>
        ))}
      </ul>
      {closing && (
        <Revoke
          device={closing}
          onClose={() => {
            setClosing(null);
            onChange();
          }}
        />
      )}
    </section>
  );
}

/** Says what closing means, as it cannot be taken back: it goes by a press of its own. */
function Revoke({ device, onClose }: { device: KnownDevice; onClose: () => void }) {
  const [wrong, setWrong] = useState('');
  const go = () => revoke(device.id).then(onClose, (fault: unknown) => setWrong(refusal(fault)));
  return (
    <Sheet title={t('upkeep.revoke-of', { name: device.name })} onClose={onClose}>
      <p>{t('upkeep.revoke-what')}</p>
      {wrong !== '' && <p class="wrong" role="alert">{wrong}</p>}
      <Button kind="main" onPress={() => void go()}>
        {t('upkeep.revoke')}
      </Button>
    </Sheet>
  );
}

function seen({ made, seen: last, revoked }: KnownDevice): string {
  const parts = [t('upkeep.made', { time: day(made) }), last === '' ? t('upkeep.never-seen') : t('upkeep.seen', { time: day(last) })];
  return [...parts, revoked ? t('upkeep.revoked') : ''].filter(Boolean).join(' · ');
}

function nameOf(person: string): string {
  const { me } = status.value;
  return me ? called(person, me.people.find(({ id }) => id === person)?.name ?? '') : '';
}

/** A device's name; it goes with that of its person. */
function deviceName(name: string): string {
  return name === '' ? t('upkeep.nameless') : name;
}
