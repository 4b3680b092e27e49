import { useEffect, useState } from 'preact/hooks';
import { roomOf, t } from '../../words';

/** The room that this app takes and may still take, as the browser estimates it; nothing where it does not say. */
export function Space() {
  const [room, setRoom] = useState<StorageEstimate>({});
  useEffect(() => {
    const storage = navigator.storage as StorageManager | undefined;
    void storage?.estimate?.().then(setRoom, () => undefined);
  }, []);
  const { usage, quota } = room;
  if (usage === undefined || quota === undefined) return null;
  return <p>{t('phone.space', { used: roomOf(usage), free: roomOf(Math.max(0, quota - usage)) })}</p>;
}
