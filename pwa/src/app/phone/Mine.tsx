import { useEffect, useState } from 'preact/hooks';
import { status } from '../../engine/client';
import { t } from '../../words';
import { Devices } from '../desk/Devices';
import { type KnownDevice, ownDevices } from '../desk/upkeep';

/** This person's other devices, each to be shut out; nothing while there are none, or the server is silent. */
export function Mine() {
  const [devices, setDevices] = useState<KnownDevice[]>([]);
  const look = () => void ownDevices().then(setDevices, () => undefined);
  const person = status.value.me?.person.id;
  useEffect(() => {
    if (person !== undefined) look();
  }, [person]);
  const open = devices.filter(({ revoked }) => !revoked);
  if (open.length < 2) return null;
  return <Devices title={t('phone.mine')} devices={open} onChange={look} />;
}
