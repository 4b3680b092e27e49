/** What can wait yields to a thumb: what it pressed is drawn first. */
const drawing = 150; // ms that a slow phone may draw at what was pressed. Judgement

let down = Number.NEGATIVE_INFINITY; // when a finger came down last, ms on the page's clock
globalThis.addEventListener?.('pointerdown', ({ timeStamp }) => void (down = timeStamp), { capture: true, passive: true });

/** How long something that can wait lets what was pressed go first, in ms; 0 where nothing was. */
export function untilDrawn(now = performance.now()): number {
  return Math.min(drawing, Math.max(0, down + drawing - now));
}
