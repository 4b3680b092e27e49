import { Fault } from '../engine/client';
import { t } from '../words';

/** How a screen names what went wrong: its code and, where the server said no, the number under which its log has it. */
export function named(thrown: unknown): string {
  if (!(thrown instanceof Fault)) return 'unknown';
  const { code, request } = thrown;
  return request === undefined ? code : t('fault.named', { code, request });
}
