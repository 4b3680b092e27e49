/** Arrows while a person draws them into a picture: pure steps over their places, parts of its width and height. */
import type { Arrow } from '../../engine/types';
import { moved, type Spot } from './spot';

/** A stroke shorter than this is a tap. Judgement: a thumb does not draw shorter ones. */
const shortest = 0.04;

/** How long the arrow of a tap is. Judgement. */
const usual = 0.18;

/** As many as a picture may have. */
export const mostArrows = 10;

/** The arrow of a stroke: it points at where the stroke ended; a tap gives one that comes from the picture's middle side. */
export function arrowOf(from: Spot, to: Spot): Arrow {
  if (Math.hypot(to.x - from.x, to.y - from.y) >= shortest) return { fromX: from.x, fromY: from.y, x: to.x, y: to.y };
  return { fromX: inward(to.x), fromY: inward(to.y), x: to.x, y: to.y };
}

/** The arrows with their last one pointing elsewhere, its tail following. */
export function nudged(arrows: readonly Arrow[], dx: number, dy: number): Arrow[] {
  const last = arrows.at(-1);
  if (last === undefined) return [];
  const from = moved({ x: last.fromX, y: last.fromY }, dx, dy);
  return [...arrows.slice(0, -1), { fromX: from.x, fromY: from.y, ...moved(last, dx, dy) }];
}

function inward(at: number): number {
  return at > 0.5 ? at - usual : at + usual;
}
