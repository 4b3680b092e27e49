import { askPromise, status } from '../../engine/client';
import { Button } from '../../ui';
import { t } from '../../words';

/** Whether the browser has promised not to clear what is kept, what that means, and asking it again. */
export function Promised() {
  const { promised } = status.value;
  if (promised === null) return null;
  if (promised) return <p>{t('phone.persisted')}</p>;
  return (
    <>
      <p>{t('phone.unpersisted')}</p>
      <Button kind="quiet" onPress={() => void askPromise()}>
        {t('phone.persist')}
      </Button>
    </>
  );
}
