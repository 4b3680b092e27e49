/** A repair on the spot while it is being said: pure steps. */

/** A repair that is not saved yet, and the second look's clock. */
export interface MendDraft {
  /** Both sides vented and zero seen. */
  vented: boolean;
  cause: string | null;
  action: string | null;
  /** When the second look began, in ms since 1970; null before. */
  secondAt: number | null;
}

/** What stands at the thumb: nothing of the repair, what it lacks, the second look's start or its end. */
export type MendAct = 'none' | 'cause' | 'action' | 'second' | 'seen';

/** What usually follows from a cause; the person may choose otherwise. Common practice, no source. */
const usual: Readonly<Record<string, string>> = {
  loose: 'tightened',
  'seal-worn': 'seal-replaced',
  'seal-missing': 'seal-replaced',
  dirt: 'cleaned',
  scratched: 'part-replaced',
  cracked: 'part-replaced',
  sealant: 'resealed',
  'wrong-part': 'part-replaced',
};

/** A repair before anything is said of it. */
export function begunMend(): MendDraft {
  return { vented: false, cause: null, action: null, secondAt: null };
}

/** A cause is chosen; the action that usually follows is proposed until another was chosen. */
export function caused(draft: MendDraft, cause: string): MendDraft {
  const followed = draft.action === null || draft.action === usual[draft.cause ?? ''];
  return { ...draft, cause, action: followed ? (usual[cause] ?? null) : draft.action };
}

/** What is to be done next. */
export function mendAct(draft: MendDraft): MendAct {
  if (draft.secondAt !== null) return 'seen';
  if (!draft.vented) return 'none';
  if (draft.cause === null) return 'cause';
  return draft.action === null ? 'action' : 'second';
}
