import { t } from '../../words';
import { Confirm } from './Confirm';
import { type Person, shutOutAll } from './people';

/** Shutting out all of somebody's devices. */
export function ShutOut({ person: { id, name }, onClose }: { person: Person; onClose: () => void }) {
  return <Confirm title={t('people.shut-of', { name })} says={[t('people.shut-what')]} go={t('people.shut-go')} act={() => shutOutAll(id)} onClose={onClose} />;
}
