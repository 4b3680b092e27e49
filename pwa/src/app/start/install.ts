/**
 * Putting the app on a phone. Some browsers offer it by an event that comes once
 * and early, so this module is loaded with the app; others only have a menu.
 */
import { signal } from '@preact/signals';

/** The event by which some browsers offer to install; not in the DOM's own types. */
interface InstallOffer extends Event {
  prompt(): Promise<{ outcome: 'accepted' | 'dismissed' }>;
}

/** The browser's offer, while there is one. */
export const offered = signal<InstallOffer | null>(null);

/** Whether it was installed while this page stood open. */
export const installedNow = signal(false);

if (typeof addEventListener === 'function') {
  addEventListener('beforeinstallprompt', (event) => {
    event.preventDefault();
    offered.value = event as InstallOffer;
  });
  addEventListener('appinstalled', () => {
    offered.value = null;
    installedNow.value = true;
  });
}

/** Ask the person to install; the browser shows its own question. */
export async function install(): Promise<void> {
  const offer = offered.value;
  offered.value = null;
  if (offer === null) return;
  const { outcome } = await offer.prompt();
  if (outcome === 'accepted') installedNow.value = true;
}

/** Where this page runs: in the installed app, in a phone's browser, or at a desk. */
export type Place = 'app' | 'phone' | 'desk';

/** What the browser says of itself, as far as it matters here. */
export interface Traits {
  standalone: boolean;
  coarse: boolean;
  /** The shorter side of the screen in CSS pixels. */
  side: number;
}

/** Where a page with these traits runs. */
export function placeOf({ standalone, coarse, side }: Traits): Place {
  if (standalone) return 'app';
  return coarse && side < 600 ? 'phone' : 'desk';
}

/** The traits of this browser. */
export function traits(): Traits {
  const byShare = navigator as Navigator & { standalone?: boolean };
  return {
    standalone: matchMedia('(display-mode: standalone)').matches || byShare.standalone === true,
    coarse: matchMedia('(pointer: coarse)').matches,
    side: Math.min(screen.width, screen.height),
  };
}

/** What a browser says of its maker's system, as far as it matters here. */
export interface System {
  agent: string;
  touches: number;
  /** Whether it runs from the home screen; only there is it told. */
  standalone: boolean | undefined;
}

/**
 * Whether this is a tab whose system deletes what it keeps after seven days of
 * use without it: on iPhones and iPads, which may call themselves a Mac.
 */
export function isShortLived({ agent, touches, standalone }: System): boolean {
  const ios = /iPhone|iPad|iPod/.test(agent) || (/Macintosh/.test(agent) && touches > 1);
  return ios && standalone === false;
}

/** Whether this page is such a tab. */
export function shortLived(): boolean {
  const { userAgent: agent, maxTouchPoints: touches, standalone } = navigator as Navigator & { standalone?: boolean };
  return isShortLived({ agent, touches, standalone });
}

/** How a phone's browser installs: by its own offer, its share sheet, or its menu. */
export function wayToInstall(): 'offer' | 'share' | 'menu' {
  if (shortLived()) return 'share';
  if (offered.value !== null) return 'offer';
  return 'standalone' in navigator ? 'share' : 'menu';
}

/** The kind of a device, for its proposed name: "desk", "tablet" or "plain" (a phone). */
export function deviceKind({ coarse, side }: Traits): 'desk' | 'tablet' | 'plain' {
  if (!coarse) return 'desk';
  return side < 600 ? 'plain' : 'tablet';
}
