/** Who did a thing and when, in words; a clock that was far off is said. */
import type { Stamp } from '../engine/types';
import { t } from '../words';
import { lasting, moment } from '../words/when';
import { called } from './called';

const minute = 60_000; // ms

/** By how much the device's clock was off then; "" where it was not worth saying. */
export function clockOff({ clockOff: off = 0 }: Stamp): string {
  if (off === 0) return '';
  return t(off > 0 ? 'stamp.ahead' : 'stamp.behind', { time: lasting(Math.abs(off) * minute) });
}

/** When it was, and by how much that clock was off: "3 Mar 2026, 14:05 (its clock was 2 hours ahead)". */
export function timeOf(stamp: Stamp): string {
  const off = clockOff(stamp);
  return off === '' ? moment(stamp.time) : `${moment(stamp.time)} (${off})`;
}

/** Who it was. */
export function nameOf({ by, name }: Stamp): string {
  return called(by, name);
}

/** Who and when: "Ann · 3 Mar 2026, 14:05". */
export function who(stamp: Stamp): string {
  return [nameOf(stamp), timeOf(stamp)].filter(Boolean).join(' · ');
}
