/** What can wait yields to a thumb: what it pressed is drawn first. */
const drawing = 150; // ms that a slow phone may draw at what was pressed. Judgement

let down = Number.NEGATIVE_INFINITY;
globalThis.addEventListener?.('pointerdown', ({ timeStamp }) => cameDown(timeStamp), { capture: true, passive: true });

/** A finger came down, at a moment of the page's clock, in ms. */
export function cameDown(at: number): void {
  down = at;
}

/** Runs something in so many ms, and lets what was pressed just then be drawn first, once; gives what calls it off. */
export function yielding(ms: number, run: () => void): () => void {
  let timer = setTimeout(() => (timer = setTimeout(run, untilDrawn())), ms);
  return () => clearTimeout(timer);
}

/** How long something that can wait lets what was pressed go first, in ms; 0 where nothing was. */
export function untilDrawn(now = performance.now()): number {
  return Math.min(drawing, Math.max(0, down + drawing - now));
}
