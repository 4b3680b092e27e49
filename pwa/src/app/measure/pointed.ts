/** What is pointed at in a picture while it is being measured: pure steps, in pixels of the picture. */
import type { Amount, Picture, Pointed, Spot } from '../../engine/types';
import { within } from '../finding/spot';

/** What gives the scale. */
export type Scale = 'card' | 'tube';

/** All that is pointed at so far; kept as a draft. */
export interface Pointing {
  scale: Scale;
  marks: Spot[];
  /** Empty until the bubble was tapped. */
  rim: Spot[];
  part: 'marks' | 'rim';
  /** Which point of the part moves. */
  chosen: number;
}

/** What of the picture is in sight. */
export interface View {
  x: number;
  y: number;
  width: number;
  height: number;
}

/** The sides of a card of the size ID-1, ISO/IEC 7810. */
const card = { long: { value: 85.6, unit: 'mm' }, short: { value: 53.98, unit: 'mm' } };

const rimPoints = 6;

/** Nothing pointed at yet: the scale's points stand in the middle, to be dragged apart. */
export function begun(scale: Scale, { width, height }: Picture): Pointing {
  const at = (x: number, y: number) => ({ x: Math.round(x * width), y: Math.round(y * height) });
  const marks =
    scale === 'card'
      ? [at(0.3, 0.3), at(0.7, 0.3), at(0.7, 0.7), at(0.3, 0.7)]
      : [at(0.4, 0.45), at(0.6, 0.45), at(0.4, 0.55), at(0.6, 0.55)];
  return { scale, marks, rim: [], part: 'marks', chosen: 0 };
}

/** The points that are being set now. */
export function spots({ part, marks, rim }: Pointing): Spot[] {
  return part === 'marks' ? marks : rim;
}

/** The chosen point moved by some pixels, kept in the picture. */
export function moved(pointing: Pointing, dx: number, dy: number, { width, height }: Picture): Pointing {
  const next = spots(pointing).map((spot, i) =>
    i === pointing.chosen ? { x: pixel(spot.x + dx, width), y: pixel(spot.y + dy, height) } : spot,
  );
  return { ...pointing, [pointing.part]: next };
}

/** The bubble tapped: points on a rim around the place, to be dragged onto the true one. */
export function tapped(pointing: Pointing, at: Spot, radius: number, { width, height }: Picture): Pointing {
  const rim = Array.from({ length: rimPoints }, (_, i) => {
    const turn = (2 * Math.PI * i) / rimPoints;
    return { x: pixel(at.x + radius * Math.cos(turn), width), y: pixel(at.y + radius * Math.sin(turn), height) };
  });
  return { ...pointing, rim, part: 'rim', chosen: 0 };
}

/** The point after the chosen one. */
export function following(pointing: Pointing): Pointing {
  return { ...pointing, chosen: (pointing.chosen + 1) % Math.max(1, spots(pointing).length) };
}

/** The point nearest to a place, among those being set. */
export function nearest(pointing: Pointing, at: Spot): number {
  const far = spots(pointing).map((spot) => Math.hypot(spot.x - at.x, spot.y - at.y));
  return far.indexOf(Math.min(...far));
}

/** What is in sight at so many times the whole: around a place, never beyond the picture. */
export function viewAround(at: Spot, times: number, picture: Picture): View {
  const [width, height] = [picture.width / times, picture.height / times];
  const x = Math.min(picture.width - width, Math.max(0, at.x - width / 2));
  const y = Math.min(picture.height - height, Math.max(0, at.y - height / 2));
  return { x, y, width, height };
}

/** What a record keeps; null while the bubble was not tapped, or the tube is not known. */
export function pointedOf({ scale, marks, rim }: Pointing, picture: Picture, tube: Amount | undefined): Pointed | null {
  if (rim.length === 0) return null;
  const { hash, width, height } = picture;
  const at = { hash, width, height, marks, rim };
  if (scale === 'card') return { ...at, ...card };
  return tube === undefined ? null : { ...at, tube };
}

/** A pixel within the picture, to a tenth. */
function pixel(at: number, most: number): number {
  return within(at, most, 10);
}
