import { useEffect, useRef } from 'preact/hooks';
import { steady } from '../steady';
import { headset } from './sound';

/** Keys that a keyboard, a clicker or a headset's button sends. Never those of the volume: they belong to the phone. */
const keys = [' ', 'Enter', 'PageDown', 'PageUp', 'ArrowRight', 'ArrowLeft', 'MediaPlayPause', 'MediaTrackNext'];

/** What space and enter press by themselves. */
const pressable = 'button, a, input, select, textarea, summary';

/** Runs `press` at each press of a hardware key while `on`, with its moment in ms; held keys and their ghosts count once. */
export function useKey(on: boolean, press: (at: number) => void): void {
  const now = useRef(press);
  now.current = press;
  useEffect(() => {
    if (!on) return;
    const through = steady();
    const hit = (at: number) => through(at, () => now.current(at));
    const key = (event: KeyboardEvent) => {
      if (!isKey(event)) return;
      event.preventDefault();
      if (!event.repeat) hit(event.timeStamp);
    };
    addEventListener('keydown', key);
    const quiet = headset(() => hit(performance.now()));
    return () => {
      removeEventListener('keydown', key);
      quiet();
    };
  }, [on]);
}

/** Whether a key is meant for counting: space and enter on something else to press are that thing's. */
export function isKey({ key, target, altKey, ctrlKey, metaKey }: KeyboardEvent): boolean {
  if (!keys.includes(key) || altKey || ctrlKey || metaKey) return false;
  if (key !== ' ' && key !== 'Enter') return true;
  const other = target instanceof Element ? target.closest(pressable) : null;
  return other === null || other.hasAttribute('data-counts');
}
