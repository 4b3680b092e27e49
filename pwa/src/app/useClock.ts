import { useEffect, useState } from 'preact/hooks';

/** Seconds since a moment (ms since 1970), counted on while it is not null; 0 while it is. */
export function useClock(since: number | null): number {
  const [now, setNow] = useState(() => Date.now());
  useEffect(() => {
    if (since === null) return;
    setNow(Date.now());
    const timer = setInterval(() => setNow(Date.now()), 200);
    return () => clearInterval(timer);
  }, [since]);
  return secondsSince(since, now);
}

/** Seconds from a moment to another, to a tenth; never below zero. */
export function secondsSince(since: number | null, now: number): number {
  return since === null ? 0 : Math.max(0, Math.round((now - since) / 100) / 10);
}
