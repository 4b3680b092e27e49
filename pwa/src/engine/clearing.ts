/**
 * Taking all that was kept off this device. It is not to be stopped: the server knows the device no more, so that half of its
 * records would help nobody, and lie there for whoever finds it. One that was cut off goes on by itself at the next start.
 */
import { signal } from '@preact/signals';

/** Whether it is being done; it stays so until the app begins anew. */
export const clearing = signal(false);

const key = 'jointwalk-clearing';

/** Clears, and remembers until it is done that it was begun. Rejects with what `take` does; then it is still to be done. */
export async function clear(take: () => Promise<void>): Promise<void> {
  mark('yes');
  clearing.value = true;
  try {
    await take();
  } catch (thrown) {
    clearing.value = false;
    throw thrown;
  }
  mark(null);
}

/** Whether one was begun and not done. */
export function halfCleared(): boolean {
  try {
    return localStorage.getItem(key) !== null;
  } catch {
    return false;
  }
}

/** What is kept here is wanted again. */
export function wanted(): void {
  mark(null);
}

function mark(value: string | null): void {
  try {
    if (value === null) localStorage.removeItem(key);
    else localStorage.setItem(key, value);
  } catch {
    // A browser that keeps no choices: then it is a person who begins it again.
  }
}
