/** Writing from a screen: what went wrong stands on the screen, and can be undone. */
import { useRef, useState } from 'preact/hooks';
import { type Draft, Fault, write, type Written } from '../engine/client';
import { offerUndo } from '../ui';
import { t } from '../words';

/** What a screen uses to write. */
export interface Saving {
  /** What went wrong last, in words; null when nothing did. */
  problem: string | null;
  /** Writes; null when it failed, or when this very part of the screen is still writing: nothing is saved twice by a double press. */
  save: (drafts: Draft[]) => Promise<Written[] | null>;
}

/** For a screen that writes. */
export function useSaving(): Saving {
  const [problem, setProblem] = useState<string | null>(null);
  const busy = useRef(false);
  const save = async (drafts: Draft[]) => {
    if (busy.current) return null;
    busy.current = true;
    try {
      const written = await write(drafts);
      setProblem(null);
      return written;
    } catch (cause) {
      setProblem(failure(cause));
      return null;
    } finally {
      busy.current = false;
    }
  };
  return { problem, save };
}

/**
 * Says that it was saved, and offers to take it back; `after` runs once it is. Where this device keeps nothing and the
 * server has not answered, it is not called saved.
 */
export function offerWithdrawal(says: string, site: string, written: readonly Written[], after?: () => void): void {
  const undo = async () => {
    await write(
      written.map(({ id, of, fixture }) => ({ kind: 'withdrawn', site, fixture, of, base: id, body: { why: 'undo' } })),
    );
    after?.();
  };
  offerUndo({ says: written.every(({ kept }) => kept) ? says : t('save.unsafe'), undo });
}

function failure(cause: unknown): string {
  const code = cause instanceof Fault ? cause.code : 'unknown';
  return code === 'storage-full' ? t('fault.full') : t('fault.write', { code });
}
