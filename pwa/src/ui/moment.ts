/**
 * When something happened, in ms since 1970, by the time that its event tells. A page's own clock may stand still while the phone sleeps: it
 * says how long ago that was, never when.
 */
export function momentOf(at: number, page = performance.now(), now = Date.now()): number {
  return Math.round(now - Math.max(0, page - at));
}
