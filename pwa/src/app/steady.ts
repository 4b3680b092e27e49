/** Wet glass makes ghosts of a tap: a press sooner than this after the last one, in ms, is none. Judgement: no finger is faster. */
export const ghost = 80;

/** Lets a press through unless it is the ghost of the one before, by the moments at which the device saw them, in ms. */
export function steady(): (at: number, press: () => void) => void {
  let last = -Infinity;
  return (at, press) => {
    if (at - last < ghost) return;
    last = at;
    press();
  };
}

/** What tells the first finger's presses from those of a second one on the glass: where fingers go down and up, and whether a press counts. */
export interface OneFinger {
  down: (event: Pick<PointerEvent, 'pointerId' | 'isPrimary'>) => void;
  up: (event: Pick<PointerEvent, 'pointerId'>) => void;
  /** Asked once at each press: it counts unless a second finger made it. Keys make presses without a finger. */
  counts: () => boolean;
}

/** Watches the fingers on a list. */
export function oneFinger(): OneFinger {
  let first: number | null = null;
  let lifted: number | null = null;
  return {
    down: ({ pointerId, isPrimary }) => {
      if (isPrimary) first = pointerId;
    },
    up: ({ pointerId }) => {
      lifted = pointerId;
    },
    counts: () => {
      const counts = lifted === null || lifted === first;
      lifted = null;
      return counts;
    },
  };
}
