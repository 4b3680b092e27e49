import { useState } from 'preact/hooks';
import { Button, Sheet } from '../../ui';
import { t } from '../../words';
import { type Person, shutOutAll } from './people';
import { refusal } from './sites';

/** Says what shutting somebody's devices out means, as it cannot be taken back: it goes by a press of its own. */
export function ShutOut({ person: { id, name }, onClose }: { person: Person; onClose: () => void }) {
  const [wrong, setWrong] = useState('');
  const go = () => shutOutAll(id).then(onClose, (fault: unknown) => setWrong(refusal(fault)));
  return (
    <Sheet title={t('people.shut-of', { name })} onClose={onClose}>
      <p>{t('people.shut-what')}</p>
      {wrong !== '' && <p class="wrong" role="alert">{wrong}</p>}
      <Button kind="main" onPress={() => void go()}>
        {t('people.shut-go')}
      </Button>
    </Sheet>
  );
}
