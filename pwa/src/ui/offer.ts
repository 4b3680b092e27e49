/** Undo instead of "are you sure": what was just saved can be taken back for 8 s. */
import { signal } from '@preact/signals';

/** What the bar says and does. */
export interface Offer {
  says: string;
  undo: () => Promise<unknown>;
}

/** The offer that stands now, or null. It survives a change of screen. */
export const offer = signal<Offer | null>(null);

let timer: ReturnType<typeof setTimeout> | undefined;

/** Offer to undo for 8 seconds; a new offer replaces the one before. */
export function offerUndo(next: Offer): void {
  clearTimeout(timer);
  offer.value = next;
  timer = setTimeout(() => {
    offer.value = null;
  }, 8000);
}

/** The offer stands no longer: something has begun that needs its room. */
export function passOffer(): void {
  clearTimeout(timer);
  offer.value = null;
}

/** Take back what the offer is about. */
export async function takeBack(): Promise<void> {
  const now = offer.value;
  passOffer();
  if (now !== null) await now.undo();
}
