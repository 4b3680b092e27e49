/** What people are called on screens. */
import { t } from '../words';

/** A person's name; where it was erased, or is not known here, words with the end of the id. "" for nobody. */
export function called(id: string, name: string): string {
  return name !== '' || id === '' ? name : t('person.nameless', { code: id.slice(-4) });
}
