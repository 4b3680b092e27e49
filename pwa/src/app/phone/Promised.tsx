import { useEffect, useState } from 'preact/hooks';
import { Button } from '../../ui';
import { t } from '../../words';

/** Whether the browser has promised not to clear what is kept, and asking it to. */
export function Promised() {
  const [promised, setPromised] = useState<boolean | null>(null);
  const storage = navigator.storage as StorageManager | undefined;
  useEffect(() => {
    void storage?.persisted?.().then(setPromised);
  }, []);
  if (promised === null) return null;
  if (promised) return <p>{t('phone.persisted')}</p>;
  return (
    <>
      <p>{t('phone.unpersisted')}</p>
      <Button kind="quiet" onPress={() => void storage?.persist().then(setPromised)}>
        {t('phone.persist')}
      </Button>
    </>
  );
}
