/** The app kept for offline, and a newer one that waits until the person wants it. */
import { signal } from '@preact/signals';
import { registerSW } from 'virtual:pwa-register';

/** Whether a newer version waits. */
export const update = signal(false);

let take: (() => Promise<void>) | undefined;
let busy: () => boolean = () => false;

/** Registers the service worker; `writing` says when taking over must wait. */
export function keepApp(writing: () => boolean): void {
  if (!('serviceWorker' in navigator)) return;
  busy = writing;
  const replace = registerSW({
    onNeedRefresh: () => {
      update.value = true;
    },
  });
  take = () => replace(true);
}

/** Takes the newer version, once nothing is being written; the page loads anew. */
export async function takeUpdate(): Promise<void> {
  while (busy()) await new Promise((go) => setTimeout(go, 50));
  await take?.();
}
