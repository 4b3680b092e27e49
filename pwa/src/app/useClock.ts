import { useEffect, useState } from 'preact/hooks';

/** Seconds since a moment (ms since 1970), counted on while it is not null; 0 while it is. */
export function useClock(since: number | null): number {
  return useTime(since, (seconds) => seconds);
}

/** The same in whole seconds: a screen that shows no more is not drawn more often. */
export function useSeconds(since: number | null): number {
  return useTime(since, Math.floor);
}

function useTime(since: number | null, shown: (seconds: number) => number): number {
  const now = () => shown(secondsSince(since, Date.now()));
  const [seconds, setSeconds] = useState(now);
  useEffect(() => {
    setSeconds(now());
    if (since === null) return;
    const timer = setInterval(() => setSeconds(now()), 200);
    return () => clearInterval(timer);
  }, [since]);
  return since === null ? 0 : seconds;
}

/** Seconds from a moment to another, to a tenth; never below zero. */
export function secondsSince(since: number | null, now: number): number {
  return since === null ? 0 : Math.max(0, Math.round((now - since) / 100) / 10);
}
