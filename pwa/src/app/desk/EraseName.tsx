import { t } from '../../words';
import { Confirm } from './Confirm';
import { eraseName, type Person } from './people';

/** Erasing somebody's name for good. */
export function EraseName({ person: { id, name }, onClose }: { person: Person; onClose: () => void }) {
  const says = [t('people.erase-what'), t('people.erase-shut'), t('people.erase-stays')];
  return <Confirm title={t('people.erase-of', { name })} says={says} go={t('people.erase-go')} act={() => eraseName(id)} onClose={onClose} />;
}
