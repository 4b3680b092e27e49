/** Places among a fixture's joints: numbers with room between them, so that one move is one record. */

/** Anything with a place. */
interface Placed {
  order: number;
}

/**
 * The place that brings the joint at `at` one step up (-1) or down (+1) in a
 * list that is in place order; null at the ends.
 */
export function moved(list: readonly Placed[], at: number, step: -1 | 1): number | null {
  const next = list[at + step];
  if (next === undefined) return null;
  const beyond = list[at + 2 * step];
  return beyond === undefined ? next.order + step : (next.order + beyond.order) / 2;
}

/** The place behind the last. */
export function last(list: readonly Placed[]): number {
  return list.reduce((most, { order }) => Math.max(most, order), 0) + 1;
}
