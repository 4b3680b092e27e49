/** A repair while it is being said, and its second look: pure steps. */

/** A repair that is not saved yet, and the second look's clock. */
export interface MendDraft {
  /** Both sides vented and zero seen. */
  vented: boolean;
  cause: string | null;
  action: string | null;
  /** The spare part that went in, '' for none. */
  spare: string;
  /** When the second look began, in ms since 1970; null before. */
  secondAt: number | null;
  /** The order of pressure and wetting that the second look began with. */
  order: Order;
}

/** Wetted under pressure, before it came, or vented since. */
export type Order = 'after' | 'before' | 'vented';

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

/** Actions that put a part in: only these ask which. */
const withSpare = ['seal-replaced', 'part-replaced'];

/** A repair before anything is said of it. */
export function begunMend(): MendDraft {
  return { vented: false, cause: null, action: null, spare: '', secondAt: null, order: 'after' };
}

/** A kept repair as it goes on after a reload: one of an older version lacks what came since. */
export function resumedMend(kept: MendDraft): MendDraft {
  return { ...begunMend(), ...kept };
}

/** A cause is chosen; the action that usually follows is proposed until another was chosen. */
export function caused(draft: MendDraft, cause: string): MendDraft {
  const followed = draft.action === null || draft.action === usual[draft.cause ?? ''];
  return { ...draft, cause, action: followed ? (usual[cause] ?? null) : draft.action };
}

/** Whether to ask for the spare part. */
export function asksSpare({ action }: MendDraft): boolean {
  return withSpare.includes(action ?? '');
}

/** What is to be done next; a repair that is saved and waits only lacks its second look. */
export function mendAct(draft: MendDraft, waiting: boolean): MendAct {
  if (draft.secondAt !== null) return 'seen';
  if (waiting) return 'second';
  if (!draft.vented) return 'none';
  if (draft.cause === null) return 'cause';
  return draft.action === null ? 'action' : 'second';
}

/** The second look begins, in that order of pressure and wetting. */
export function looking(draft: MendDraft, order: Order, now: number): MendDraft {
  return { ...draft, order, secondAt: now };
}

/** The repair to write. */
export function mendBody(draft: MendDraft, when: 'on-spot' | 'later') {
  const { vented, cause, action, spare } = draft;
  const part = asksSpare(draft) ? spare.trim() : '';
  return { when, vented, cause: cause ?? 'unknown', action: action ?? 'other', ...(part !== '' && { spare: part }) };
}
