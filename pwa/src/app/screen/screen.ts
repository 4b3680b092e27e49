/**
 * How large a millimetre is on this screen. It is found once, by something of known size on the glass, and holds for as long
 * as screen and zoom are the same. Kept in the browser; losing it costs fitting it again.
 */

/**
 * What is laid on the glass, in mm: the short side of an ID-1 card (53.98, ISO/IEC 7810), and the diameters of a 1 euro coin
 * and of a US quarter (from memory).
 */
export const known = { card: 53.98, euro: 23.25, quarter: 24.26 } as const;
export type Known = keyof typeof known;

/** What a fit holds for: pixels a pixel, and the longer side of the screen in CSS pixels, which turning it does not change. */
export interface Shown {
  ratio: number;
  long: number;
}

/** A fitted screen. */
export interface Fitted extends Shown {
  /** CSS pixels a millimetre. */
  perMm: number;
}

/** CSS pixels a millimetre that screens have: telephones about 6, monitors about 4. */
export const least = 2.5;
export const most = 9;

/** The smallest change: half a pixel of a card. */
export const fine = 0.01;

/** A scale that the drawing can have: on the grid, within what screens have. */
export function within(perMm: number): number {
  return Number(Math.min(most, Math.max(least, perMm)).toFixed(2));
}

/** Where to begin before anything is known of a screen that is so long. */
export function guess(shown: Shown): number {
  return shown.long < 1000 ? 6 : 3.8;
}

/** The scale of a fit on what is shown now: null where there is none or it was made for another screen or zoom. */
export function scaleOn(fit: Fitted | null, shown: Shown): number | null {
  if (fit === null) return null;
  return Math.abs(fit.ratio - shown.ratio) < 0.001 && fit.long === shown.long ? fit.perMm : null;
}

/** A kept fit read again; null for anything else. */
export function read(text: string | null): Fitted | null {
  try {
    const { perMm, ratio, long } = JSON.parse(text ?? 'null') as Record<string, unknown>;
    if (typeof perMm !== 'number' || typeof ratio !== 'number' || typeof long !== 'number') return null;
    return perMm >= least && perMm <= most ? { perMm, ratio, long } : null;
  } catch {
    return null;
  }
}

const key = 'jointwalk-screen';

/** What the screen shows now; zooming by two fingers counts as another ratio. */
export function shownNow(): Shown {
  return {
    ratio: devicePixelRatio * (window.visualViewport?.scale ?? 1),
    long: Math.max(screen.width, screen.height),
  };
}

/** The fit of this screen, whether or not it still holds. */
export function kept(): Fitted | null {
  try {
    return read(localStorage.getItem(key));
  } catch {
    return null;
  }
}

/** Keeps a fit made on what is shown now. */
export function keep(perMm: number): void {
  try {
    localStorage.setItem(key, JSON.stringify({ perMm, ...shownNow() }));
  } catch {
    // A browser that keeps nothing asks for it each time.
  }
}

/** CSS pixels a millimetre on this screen now, null where that is not known. */
export function perMm(): number | null {
  return scaleOn(kept(), shownNow());
}
