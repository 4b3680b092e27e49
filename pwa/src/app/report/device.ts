/** What the browser says of this device, for a report. */
import { gloves, hand, theme } from '../../ui/theme';
import { language } from '../../words';
import type { Device, Dress } from './report';

/** The device as it is now. */
export async function deviceNow(): Promise<Device> {
  const storage = navigator.storage as StorageManager | undefined;
  const { usage, quota } = (await storage?.estimate?.().catch(() => undefined)) ?? {};
  return {
    agent: navigator.userAgent,
    language: navigator.language,
    screen: `${screen.width} × ${screen.height}`,
    window: `${innerWidth} × ${innerHeight}`,
    ratio: devicePixelRatio,
    touch: navigator.maxTouchPoints,
    installed: matchMedia('(display-mode: standalone)').matches,
    online: navigator.onLine,
    used: usage ?? null,
    free: usage === undefined || quota === undefined ? null : quota - usage,
  };
}

/** How the app looks now. */
export function dressNow(): Dress {
  return { theme: theme.value, hand: hand.value, gloves: gloves.value, language: language.value };
}
