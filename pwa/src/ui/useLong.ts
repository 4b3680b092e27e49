import { useEffect, useRef, useState } from 'preact/hooks';

/** Something that takes long: whether it runs, and how a person stops it. */
export interface Long {
  busy: boolean;
  /** Runs it; what is given says when to stop. */
  run: (work: (stop: AbortSignal) => Promise<void>) => Promise<void>;
  stop: () => void;
}

/** One long thing at a time, stopped by the person or when its screen goes. */
export function useLong(): Long {
  const [busy, setBusy] = useState(false);
  const now = useRef<AbortController>(undefined);
  const stop = () => now.current?.abort();
  useEffect(() => stop, []);
  const run = async (work: (stop: AbortSignal) => Promise<void>) => {
    now.current = new AbortController();
    setBusy(true);
    await work(now.current.signal).finally(() => setBusy(false));
  };
  return { busy, run, stop };
}
