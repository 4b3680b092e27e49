/** A leak while it is being counted and sized: pure steps from what is typed to what was seen. */
import type { Amount, Observation, Size } from '../../engine/types';
import { lengthText, typed, typedLength } from '../../words';
import { current, drafted, readable, recorded, sizedAs, sizes, type Sizing } from './size';

/** How a leak is observed: bubbles counted in three ways, one dome or froth that grew, gas collected, or a class where nothing can be counted. */
export type How = 'window' | 'ten' | 'taps' | 'dome' | 'froth' | 'collected' | 'class';

/** Which number the keys write into. */
export type Target = 'count' | 'time' | 'size' | 'volume' | 'head' | 'height';

/** What may be missing before anything can be said. */
export type Lack = Exclude<Target, 'head'> | 'class';

/** What was tried at a leak besides looking; none of it is asked. */
export interface Tried {
  wiped: string;
  vented: string;
  /** How often it was wetted again. */
  rewets: number;
}

/** All of a leak that is not saved yet; kept as a draft. */
export interface LeakDraft extends Tried, Sizing {
  medium: string;
  how: How;
  /** When the stopwatch was started, in ms since 1970; null while it stands. */
  startedAt: number | null;
  /** Whether a time or taps are there: the counting itself is over. */
  counted: boolean;
  count: string;
  seconds: string;
  taps: number[];
  volume: string;
  volumeUnit: string;
  /** How far the water in the measure stands above that outside; '' where it was not read. */
  head: string;
  headUnit: string;
  /** The water in the measure stands lower. */
  lower: boolean;
  looks: string | null;
  /** How high a dome stands, '' where it was not seen; by how much froth grew. */
  height: string;
  heightUnit: string;
  target: Target | null;
}

/** How many bubbles are timed by "ten", unless another number is on record. */
const ten = 10;

/** A leak before anything is known of it. */
export function begun(medium: string, how: How): LeakDraft {
  return {
    medium, how, startedAt: null, counted: false, count: '', seconds: '', taps: [], size: null, target: null,
    volume: '', volumeUnit: 'mL', head: '', headUnit: 'mm', lower: false, looks: null, height: '', heightUnit: 'mm', wiped: 'not-tried', vented: 'not-tried', rewets: 0,
  };
}

/** Whether bubbles are counted and sized. */
export function counts(how: How): boolean {
  return isSized(how) && !grows(how);
}

/** Whether one thing is timed as it grows. */
export function grows(how: How): how is 'dome' | 'froth' {
  return how === 'dome' || how === 'froth';
}

/** Whether what was seen is sized. */
export function isSized(how: How): boolean {
  return how !== 'collected' && how !== 'class';
}

/** Another way to observe: the count is thrown away, and what grows has one size. */
export function anotherWay(draft: LeakDraft, how: How, heightUnit: string): LeakDraft {
  return { ...again(draft), how, heightUnit, ...(!counts(how) && { more: [], sizing: 0 }) };
}

/**
 * A kept draft as it goes on after a reload or a kill. A stopwatch runs on; taps are over, since nobody knows how many
 * bubbles went meanwhile. What an older version kept lacks what is new.
 */
export function resumed(kept: LeakDraft): LeakDraft {
  const draft = { ...begun(kept.medium, kept.how), ...kept };
  if (draft.startedAt === null || draft.how !== 'taps') return draft;
  return { ...draft, startedAt: null, counted: draft.taps.length > 0 };
}

/** What was tried, as a look keeps it. */
export function tried({ wiped, vented, rewets }: Tried): Tried {
  return { wiped, vented, rewets };
}

/** The stopwatch stops; a window is asked for its count next, gas for its volume. */
export function stopped(draft: LeakDraft, seconds: number): LeakDraft {
  return { ...draft, startedAt: null, counted: true, seconds: String(seconds), target: asked[draft.how] ?? null };
}

/** Which number is typed once the time is known. */
const asked: Partial<Record<How, Target>> = { window: 'count', collected: 'volume', froth: 'height' };

/** The count is thrown away; size and the rest stay. */
export function again(draft: LeakDraft): LeakDraft {
  return { ...draft, startedAt: null, counted: false, count: '', seconds: '', taps: [], volume: '', head: '', height: '', target: null };
}

/** The number that the keys write into now. */
export function entry(draft: LeakDraft, target: Target): string {
  if (target === 'count') return draft.count;
  if (target === 'time') return draft.seconds;
  if (target === 'volume' || target === 'head' || target === 'height') return draft[target];
  const size = current(draft);
  return size !== null && 'text' in size ? size.text : '';
}

/** The draft with one number typed anew. */
export function entered(draft: LeakDraft, target: Target, text: string): LeakDraft {
  if (target === 'count') return { ...draft, count: text };
  if (target === 'time') return { ...draft, seconds: text };
  if (target === 'volume' || target === 'head' || target === 'height') return { ...draft, [target]: text };
  const size = current(draft);
  return sizedAs(draft, size?.as === 'diameter' ? { ...size, text } : { as: 'diameter', text });
}

/** What is missing before anything can be said; null when all is there. */
export function missing(draft: LeakDraft): Lack | null {
  if (draft.how === 'class') return draft.looks === null ? 'class' : null;
  if (draft.how === 'collected') return typed(draft.volume) === null ? 'volume' : typed(draft.seconds) === null ? 'time' : null;
  if (draft.how === 'taps' ? draft.taps.length < 2 : typed(draft.seconds) === null) return 'time';
  if (draft.how === 'window' && typed(draft.count) === null) return 'count';
  if (grows(draft.how) && (draft.how === 'froth' || draft.height !== '') && heightOf(draft) === null) return 'height';
  return draft.size !== null && sizes(draft).every(readable) ? null : 'size';
}

/** What was seen; null while something is missing. */
export function observed(draft: LeakDraft, tube: Amount | undefined): Observation | null {
  if (missing(draft) !== null) return null;
  if (!isSized(draft.how)) return uncounted(draft);
  if (draft.size === null) return null;
  if (grows(draft.how)) return grown(draft, recorded(draft.size, tube));
  const { medium, how } = draft;
  const more = (draft.more ?? []).map((one) => recorded(one, tube));
  const sized = { size: recorded(draft.size, tube), ...(more.length > 0 && { moreSizes: more }) };
  if (how === 'taps') return { medium, how, taps: draft.taps, ...sized };
  return { medium, how, count: typed(draft.count) ?? (how === 'ten' ? ten : 0), seconds: typed(draft.seconds) ?? 0, ...sized };
}

/** Gas collected over water, or a class. */
function uncounted(draft: LeakDraft): Observation {
  const { medium, how } = draft;
  const size = { as: 'none' };
  if (how === 'class') return { medium, how, class: draft.looks ?? '', size };
  const volume = { value: typed(draft.volume) ?? 0, unit: draft.volumeUnit };
  const seen: Observation = { medium: 'water', how, seconds: typed(draft.seconds) ?? 0, volume, size };
  const head = typed(draft.head);
  return head === null ? seen : { ...seen, head: { value: draft.lower ? -head : head, unit: draft.headUnit } };
}

/** A dome or froth, which only a film makes. */
function grown(draft: LeakDraft, size: Size): Observation {
  const seen = { medium: 'film', how: draft.how, seconds: typed(draft.seconds) ?? 0, size };
  const height = heightOf(draft);
  return height === null ? seen : { ...seen, height: { value: height, unit: draft.heightUnit } };
}

function heightOf({ height, heightUnit }: LeakDraft): number | null {
  return typedLength(height, heightUnit);
}

/** A class that is gross: it is mended before anything else. */
const gross = ['heard', 'blown-off'];

/** The result of a look that gave this observation. */
export function resultOf(seen: Observation): 'leaks' | 'gross' {
  return gross.includes(seen.class ?? '') ? 'gross' : 'leaks';
}

/** A draft that holds an observation again, to be corrected. */
export function reopened(o: Observation, was: Partial<Tried>): LeakDraft {
  const draft = begun(o.medium, ways.find((way) => way === o.how) ?? 'window');
  const size = o.size.as === 'none' ? null : drafted(o.size);
  const head = o.head?.value;
  return {
    ...draft, counted: true, count: String(o.count ?? ''), seconds: String(o.seconds ?? ''), taps: o.taps ?? [], size, more: (o.moreSizes ?? []).map(drafted),
    volume: String(o.volume?.value ?? ''), volumeUnit: o.volume?.unit ?? 'mL', looks: o.class ?? null,
    height: o.height ? lengthText(o.height.value, o.height.unit) : '', heightUnit: o.height?.unit ?? 'mm',
    headUnit: o.head?.unit ?? 'mm', head: head === undefined ? '' : String(Math.abs(head)), lower: head !== undefined && head < 0,
    wiped: was.wiped ?? 'not-tried', vented: was.vented ?? 'not-tried', rewets: was.rewets ?? 0,
  };
}

const ways: readonly How[] = ['window', 'ten', 'taps', 'dome', 'froth', 'collected', 'class'];
