import { useEffect, useState } from 'preact/hooks';
import { drawn } from '../engine/client';

/** How many parts of a list are drawn at once: more than a phone's screen holds. */
const piece = 16;

/** How many of so many parts to draw by now: those in sight first, then a piece after each frame, so that a thumb need not wait for all. */
export function useGradual(total: number): number {
  const [shown, show] = useState(piece);
  useEffect(() => {
    if (shown >= total) return;
    let current = true;
    void drawn().then(() => current && show(shown + piece));
    return () => {
      current = false;
    };
  }, [shown, total]);
  return shown;
}
