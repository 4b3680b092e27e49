/** Wet glass under a finger: which touches are taps, and when a hold is a hold. Pure steps over what the screen reports. */
import { ghost } from '../steady';

/** One thing that a touch does, at a moment in ms. */
export interface Touch {
  what: 'down' | 'move' | 'up' | 'cancel';
  id: number;
  at: number;
  x: number;
  y: number;
  /** The device says that no other touch is there: one whose end got lost is over. */
  alone?: boolean;
}

/** A touch that moves further than this is a palm or a wiping sleeve, in CSS pixels. Judgement. */
const smear = 24;

/**
 * Follows the touches of one key. It answers "tap" as a finger comes down, and "undo" where that finger turns out to be
 * a palm: it smears, or the screen gives it up. A touch within 80 ms after another came or went is the ghost of it, and
 * a second finger is none.
 */
export function touches(from = -Infinity): (touch: Touch) => 'tap' | 'undo' | null {
  const down = new Set<number>();
  let last = from;
  let tap: Touch | null = null;
  const over = () => {
    tap = null;
    return 'undo' as const;
  };
  return (touch) => {
    const mine = tap?.id === touch.id ? tap : null;
    if (touch.what === 'move') return mine !== null && far(mine, touch) ? over() : null;
    if (touch.what === 'down' && touch.alone) down.clear();
    const alone = down.size === 0 && touch.at - last >= ghost;
    last = touch.at;
    if (touch.what === 'down') {
      down.add(touch.id);
      if (!alone) return null;
      tap = touch;
      return 'tap';
    }
    down.delete(touch.id);
    if (touch.what === 'cancel' && mine !== null) return over();
    if (mine !== null) tap = null;
    return null;
  };
}

/** How long a hold takes, in ms. Judgement: longer than a drop rests, shorter than a breath. */
export const holdFor = 600;

/** A contact that breaks for less than this was never lifted, in ms. Judgement: no finger comes back as fast. */
const blink = 40;

/** Follows the touches of something to hold. `filled` is how much of the hold is done at a moment, 1 when all is. */
export interface Holding {
  touch: (touch: Touch) => void;
  filled: (at: number) => number;
}

/**
 * A hold by one finger. A contact that breaks for less than 40 ms, as wet glass makes it, goes on; one that is lifted,
 * smears or is given up begins anew, and other fingers do nothing.
 */
export function holding(): Holding {
  let first: Touch | null = null;
  let finger = 0;
  let lost: number | null = null;
  const settle = (at: number) => {
    if (lost !== null && at - lost >= blink) first = lost = null;
  };
  const down = (touch: Touch) => {
    if (first === null) first = touch;
    else if (lost === null || far(first, touch)) return;
    finger = touch.id;
    lost = null;
  };
  return {
    touch: (touch) => {
      settle(touch.at);
      if (touch.what === 'down') down(touch);
      if (first === null || touch.id !== finger) return;
      if (touch.what === 'up') lost = touch.at;
      else if (touch.what === 'cancel' || far(first, touch)) first = null;
    },
    filled: (at) => {
      settle(at);
      return first === null || lost !== null ? 0 : Math.min(1, (at - first.at) / holdFor);
    },
  };
}

function far(a: Touch, b: Touch): boolean {
  return Math.hypot(a.x - b.x, a.y - b.y) > smear;
}

/** What a pointer's event says of a touch. */
export function touchOf(event: PointerEvent): Touch | null {
  const what = ({ pointerdown: 'down', pointermove: 'move', pointerup: 'up', pointercancel: 'cancel' } as Record<string, Touch['what']>)[event.type];
  if (what === undefined) return null;
  return { what, id: event.pointerId, at: event.timeStamp, x: event.clientX, y: event.clientY, alone: event.isPrimary };
}
