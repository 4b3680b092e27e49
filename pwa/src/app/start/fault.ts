/** The words of what went wrong while a device becomes known. */
import { Fault, named } from '../../engine/client';
import { known, said, t } from '../../words';

/** What to say and do: the words of the code, or that it did not work. */
export function wordsOf(fault: unknown): string {
  const code = fault instanceof Fault ? fault.code : 'failed';
  return known('start-fault', code) ? said('start-fault', code) : `${t('start-fault.failed')} (${named(fault)})`;
}
