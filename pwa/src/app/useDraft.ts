import { useEffect, useState } from 'preact/hooks';
import { draftOf, draftShown, dropDraft, keepDraft } from '../engine/client';

/** A screen's unsaved state, kept on the phone so that a reload or a kill loses little. */
export interface Kept<Value> {
  /** Null until it is known whether something was kept. */
  value: Value | null;
  set: (value: Value) => void;
  /** Forgets what was kept and begins anew. */
  clear: () => void;
}

/** The draft under a key, as `resume` makes it fit what was saved since, or what `begin` gives where nothing was kept. */
export function useDraft<Value>(key: string, begin: () => Value, resume: (kept: Value) => Value = (kept) => kept): Kept<Value> {
  const [value, setValue] = useState<Value | null>(null);
  useEffect(() => {
    let current = true;
    setValue(null);
    const take = (kept: Value | undefined) => {
      if (!current) return;
      draftShown(key, kept !== undefined && kept !== null);
      setValue(kept === undefined ? begin() : resume(kept));
    };
    draftOf<Value>(key).then(take, () => take(undefined));
    return () => {
      current = false;
      draftShown(key, false);
    };
  }, [key]);
  const set = (next: Value) => {
    setValue(next);
    draftShown(key, true);
    keepDraft(key, next);
  };
  const clear = () => {
    setValue(begin());
    void dropDraft(key);
  };
  return { value, set, clear };
}
