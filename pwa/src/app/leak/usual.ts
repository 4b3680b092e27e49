/** How this person usually counts; losing it costs one tap. */
import type { How } from './observation';

const key = 'jointwalk-count';

/** The way of counting used last on this device; the stopwatch at first. */
export function usualHow(): How {
  try {
    const how = localStorage.getItem(key);
    return how === 'ten' || how === 'taps' ? how : 'window';
  } catch {
    return 'window';
  }
}

/** Remember a way of counting. */
export function rememberHow(how: How): void {
  try {
    localStorage.setItem(key, how);
  } catch {
    // A browser that keeps nothing begins with the stopwatch each time.
  }
}
