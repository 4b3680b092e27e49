import { useState } from 'preact/hooks';
import { status } from '../../engine/client';
import { Button } from '../../ui';
import { listed, t } from '../../words';
import { day } from '../../words/when';
import { called } from '../called';
import { Confirm } from './Confirm';
import './desk.css';
import { type KnownDevice, revoke } from './upkeep';

/** A list of devices, each to be closed but the one that this is. */
export function Devices({ title, devices, onChange }: { title: string; devices: readonly KnownDevice[]; onChange: () => void }) {
  const [closing, setClosing] = useState<KnownDevice | null>(null);
  return (
    <section class="form" aria-label={title}>
      <h2>{title}</h2>
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
        <Confirm
          title={t('upkeep.revoke-of', { name: closing.name })}
          says={[t('upkeep.revoke-what')]}
          go={t('upkeep.revoke')}
          act={() => revoke(closing.id)}
          onClose={() => {
            setClosing(null);
            onChange();
          }}
        />
      )}
    </section>
  );
}

function seen({ made, seen: last, revoked }: KnownDevice): string {
  const parts = [t('upkeep.made', { time: day(made) }), last === '' ? t('upkeep.never-seen') : t('upkeep.seen', { time: day(last) })];
  return [...parts, revoked ? t('upkeep.revoked') : ''].filter(Boolean).join(' · ');
}

/** A person's name, or what to say for one that was erased. */
export function nameOf(person: string): string {
  const { me } = status.value;
  return me ? called(person, me.people.find(({ id }) => id === person)?.name ?? '') : '';
}

/** A device's name; it goes with that of its person. */
export function deviceName(name: string): string {
  return name === '' ? t('upkeep.nameless') : name;
}
