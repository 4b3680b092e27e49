/** A leak while it is being counted and sized: pure steps from what is typed to what was seen. */
import type { Amount, Observation, Size } from '../../engine/types';
import { typed } from '../../words';

/** How bubbles are counted. */
export type How = 'window' | 'ten' | 'taps';

/** The size of one bubble as chosen, or as typed in millimetres. */
export type SizeDraft = { as: 'tube'; share: number } | { as: 'diameter'; text: string };

/** Which number the keys write into. */
export type Target = 'count' | 'time' | 'size';

/** All of a leak that is not saved yet; kept as a draft. */
export interface LeakDraft {
  medium: string;
  how: How;
  /** When the stopwatch was started, in ms since 1970; null while it stands. */
  startedAt: number | null;
  /** Whether a time or taps are there: the counting itself is over. */
  counted: boolean;
  count: string;
  seconds: string;
  taps: number[];
  size: SizeDraft | null;
  wiped: string;
  target: Target | null;
}

/** How many bubbles are timed by "ten". */
const ten = 10;

/** A leak before anything is known of it. */
export function begun(medium: string, how: How): LeakDraft {
  return {
    medium, how, startedAt: null, counted: false, count: '', seconds: '', taps: [], size: null, wiped: 'not-tried', target: null,
  };
}

/** The stopwatch stops; a window is asked for its count next. */
export function stopped(draft: LeakDraft, seconds: number): LeakDraft {
  const target = draft.how === 'window' ? 'count' : null;
  return { ...draft, startedAt: null, counted: true, seconds: String(seconds), target };
}

/** The count is thrown away; size and the rest stay. */
export function again(draft: LeakDraft): LeakDraft {
  return { ...draft, startedAt: null, counted: false, count: '', seconds: '', taps: [], target: null };
}

/** The number that the keys write into now. */
export function entry(draft: LeakDraft, target: Target): string {
  if (target === 'count') return draft.count;
  if (target === 'time') return draft.seconds;
  return draft.size?.as === 'diameter' ? draft.size.text : '';
}

/** The draft with one number typed anew. */
export function entered(draft: LeakDraft, target: Target, text: string): LeakDraft {
  if (target === 'count') return { ...draft, count: text };
  if (target === 'time') return { ...draft, seconds: text };
  return { ...draft, size: { as: 'diameter', text } };
}

/** What is missing before anything can be said; null when all is there. */
export function missing(draft: LeakDraft): Target | null {
  if (draft.how === 'taps' ? draft.taps.length < 2 : typed(draft.seconds) === null) return 'time';
  if (draft.how === 'window' && typed(draft.count) === null) return 'count';
  if (draft.size === null) return 'size';
  return draft.size.as === 'diameter' && typed(draft.size.text) === null ? 'size' : null;
}

/** What was seen; null while something is missing. */
export function observed(draft: LeakDraft, tube: Amount | undefined): Observation | null {
  if (missing(draft) !== null || draft.size === null) return null;
  const { medium, how } = draft;
  const size = sized(draft.size, tube);
  if (how === 'taps') return { medium, how, taps: draft.taps, size };
  const count = how === 'ten' ? ten : (typed(draft.count) ?? 0);
  return { medium, how, count, seconds: typed(draft.seconds) ?? 0, size };
}

/** A draft that holds an observation again, to be corrected. */
export function reopened(o: Observation, wiped: string | undefined): LeakDraft {
  const draft = begun(o.medium, o.how === 'ten' || o.how === 'taps' ? o.how : 'window');
  const size: SizeDraft =
    o.size.as === 'tube'
      ? { as: 'tube', share: o.size.share ?? 0 }
      : { as: 'diameter', text: String(o.size.diameter?.value ?? '') };
  return {
    ...draft, counted: true, count: String(o.count ?? ''), seconds: String(o.seconds ?? ''), taps: o.taps ?? [], size,
    wiped: wiped ?? 'not-tried',
  };
}

function sized(size: SizeDraft, tube: Amount | undefined): Size {
  if (size.as === 'diameter') return { as: 'diameter', diameter: { value: typed(size.text) ?? 0, unit: 'mm' } };
  return tube === undefined ? { as: 'tube', share: size.share } : { as: 'tube', share: size.share, tube };
}
