import { useEffect } from 'preact/hooks';

/** Keeps the screen on while something runs, where the browser can. */
export function useAwake(on: boolean): void {
  useEffect(() => {
    if (!on || !('wakeLock' in navigator)) return;
    const lock = navigator.wakeLock.request('screen').catch(() => null);
    return () => void lock.then((held) => held?.release());
  }, [on]);
}
