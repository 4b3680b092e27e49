import { useEffect, useState } from 'preact/hooks';
import { yielding } from '../engine/client';

/** Seconds since a moment (ms since 1970), counted on while it is not null; 0 while it is. */
export function useClock(since: number | null): number {
  return useTime(since, 200, (seconds) => seconds);
}

/** The same in whole seconds: a screen that shows no more is not drawn more often. */
export function useSeconds(since: number | null): number {
  return useTime(since, 1000, Math.floor);
}

/** Drawn anew as each step of so many ms begins, or a little later where a thumb pressed something: that is drawn first. */
function useTime(since: number | null, step: number, shown: (seconds: number) => number): number {
  const now = () => shown(secondsSince(since, Date.now()));
  const [seconds, setSeconds] = useState(now);
  useEffect(() => {
    if (since === null) return setSeconds(now());
    let callOff: () => void;
    const show = () => {
      setSeconds(now());
      callOff = yielding(step - ((Date.now() - since) % step), show);
    };
    show();
    return () => callOff();
  }, [since]);
  return since === null ? 0 : seconds;
}

/** Seconds from a moment to another, to a tenth; never below zero. */
export function secondsSince(since: number | null, now: number): number {
  return since === null ? 0 : Math.max(0, Math.round((now - since) / 100) / 10);
}
