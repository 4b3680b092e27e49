/** Taps of a wet finger on wet glass: which of them count. */

import { ghost } from '../steady';

/**
 * The taps with one more at a moment in ms, in seconds from the first. A repeat
 * within 80 ms of the last is ignored. `zero` is the moment of the first tap.
 */
export function tapped(taps: readonly number[], zero: number, at: number): number[] {
  const seconds = Math.round(at - zero) / 1000;
  const last = taps.at(-1);
  if (last === undefined) return [0];
  return at - zero - last * 1000 < ghost ? [...taps] : [...taps, seconds];
}
