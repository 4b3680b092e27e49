import { useState } from 'preact/hooks';
import { Button, Sheet } from '../../ui';
import { t } from '../../words';
import { eraseName, type Person } from './people';
import { refusal } from './sites';

/** Says what erasing a name means, as it cannot be taken back: it goes by a press of its own. */
export function EraseName({ person: { id, name }, onClose }: { person: Person; onClose: () => void }) {
  const [wrong, setWrong] = useState('');
  const go = () => eraseName(id).then(onClose, (fault: unknown) => setWrong(refusal(fault)));
  return (
    <Sheet title={t('people.erase-of', { name })} onClose={onClose}>
      <p>{t('people.erase-what')}</p>
      <p>{t('people.erase-shut')}</p>
      <p>{t('people.erase-stays')}</p>
      {wrong !== '' && <p class="wrong" role="alert">{wrong}</p>}
      <Button kind="main" onPress={() => void go()}>
        {t('people.erase-go')}
      </Button>
    </Sheet>
  );
}
