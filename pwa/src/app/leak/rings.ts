/** The rings that a bubble is held beside, in mm. */

export const firstRing = 1;
export const lastRing = 10;

/** From one ring to the next: half a millimetre, which the engine's uncertainty of a ring allows for. */
const step = 0.5;

/** The ring after this one, or before it; the last of each side stays. */
export function ringAfter(mm: number, by: 1 | -1): number {
  return Math.min(lastRing, Math.max(firstRing, mm + by * step));
}
