/** The correction form: texts as typed, and the observation made of them. */
import type { Amount, Observation, Size } from '../../engine/types';
import { lengthText, typed, typedLength } from '../../words';
import { above, type FieldFault, textOf } from '../desk/numbers';

/** The size of one bubble as text. One measured in a picture is kept as it was. */
export interface SizeForm {
  as: 'tube' | 'diameter' | 'ring' | 'picture';
  share: string;
  tube: string;
  tubeUnit: string;
  diameter: string;
  diameterUnit: string;
  measured?: Size;
}

/** The ways that a correction knows. */
export type AmendedHow = 'window' | 'ten' | 'dome' | 'froth' | 'collected' | 'class';

/** Every field as text. A tapped count is corrected as a count between first and last. */
export interface ObservationForm extends SizeForm {
  medium: string;
  how: AmendedHow;
  count: string;
  seconds: string;
  /** Further bubbles that were sized. */
  more: SizeForm[];
  volume: string;
  volumeUnit: string;
  /** How far the water stood higher inside; '' where nobody looked. */
  head: string;
  headUnit: string;
  looks: string;
  /** How high a dome stood, '' where nobody saw it; by how much froth grew. */
  height: string;
  heightUnit: string;
}

/** The fields of a size with something wrong. */
export type SizeWrongs = Partial<Record<keyof SizeForm, FieldFault>>;

type Plain = Exclude<keyof ObservationForm, keyof SizeForm | 'more'>;

/** The fields with something wrong; `more` has an entry for each further bubble. */
export type Wrongs = SizeWrongs & Partial<Record<Plain, FieldFault>> & { more?: SizeWrongs[] };

/** An observation as the texts of the form. */
export function formOf({ medium, how, count, seconds, taps, size, moreSizes, volume, head, height, class: looks }: Observation): ObservationForm {
  const tapped = how === 'taps';
  return {
    medium,
    how: tapped ? 'ten' : (amended.find((way) => way === how) ?? 'window'),
    count: textOf(tapped ? (taps?.length ?? 0) : (count ?? 0)),
    seconds: textOf(tapped ? between(taps ?? []) : (seconds ?? 0)),
    ...sizeFormOf(size),
    more: (moreSizes ?? []).map(sizeFormOf),
    volume: volume ? textOf(volume.value) : '',
    volumeUnit: volume?.unit ?? 'mL',
    head: head ? textOf(head.value) : '',
    headUnit: head?.unit ?? 'mm',
    looks: looks ?? '',
    height: height ? lengthOf(height) : '',
    heightUnit: height?.unit ?? 'mm',
  };
}

/** A size as the texts of its fields. */
export function sizeFormOf(size: Size): SizeForm {
  const { as, share, tube, diameter } = size;
  const known = as === 'tube' || as === 'diameter' || as === 'ring';
  return {
    as: known ? as : 'picture',
    share: share === undefined ? '' : textOf(share),
    tube: tube ? lengthOf(tube) : '',
    tubeUnit: tube?.unit ?? 'mm',
    diameter: diameter ? lengthOf(diameter) : '',
    diameterUnit: diameter?.unit ?? 'mm',
    ...(known ? {} : { measured: size }),
  };
}

/** A size of which nothing is known yet. */
export const blankSize: SizeForm = { as: 'diameter', share: '', tube: '', tubeUnit: 'mm', diameter: '', diameterUnit: 'mm' };

/** The ways that a correction knows, in their order on the form. */
export const amended: readonly AmendedHow[] = ['window', 'ten', 'dome', 'froth', 'collected', 'class'];

/** The observation, or the fields with something wrong. */
export function observationOf(form: ObservationForm): { observation: Observation } | { wrong: Wrongs } {
  if (form.how === 'class') return classOf(form);
  if (form.how === 'dome' || form.how === 'froth') return grownOf(form);
  return form.how === 'collected' ? gasOf(form) : bubblesOf(form);
}

/** A dome or froth, which only a film makes. */
function grownOf(form: ObservationForm): { observation: Observation } | { wrong: Wrongs } {
  const seconds = above(form.seconds);
  const size = sizeOf(form);
  const height = form.how === 'dome' && form.height.trim() === '' ? undefined : length(form.height, form.heightUnit);
  if (typeof seconds !== 'number' || typeof height === 'string' || 'wrong' in size) {
    return { wrong: { ...faults({ seconds, ...(height !== undefined && { height }) }), ...wrongIn(size) } };
  }
  const observation: Observation = { medium: 'film', how: form.how, seconds, size: size.size };
  return { observation: height === undefined ? observation : { ...observation, height: { value: height, unit: form.heightUnit } } };
}

function classOf({ medium, how, looks }: ObservationForm): { observation: Observation } | { wrong: Wrongs } {
  if (looks === '') return { wrong: { looks: 'missing' } };
  return { observation: { medium, how, class: looks, size: { as: 'none' } } };
}

function gasOf(form: ObservationForm): { observation: Observation } | { wrong: Wrongs } {
  const volume = above(form.volume);
  const seconds = above(form.seconds);
  const head = form.head.trim() === '' ? undefined : (typed(form.head) ?? 'number');
  if (typeof volume !== 'number' || typeof seconds !== 'number' || typeof head === 'string') {
    return { wrong: faults({ volume, seconds, ...(head !== undefined && { head }) }) };
  }
  const observation: Observation = {
    medium: 'water', how: form.how, seconds, volume: { value: volume, unit: form.volumeUnit }, size: { as: 'none' },
  };
  return { observation: head === undefined ? observation : { ...observation, head: { value: head, unit: form.headUnit } } };
}

function bubblesOf(form: ObservationForm): { observation: Observation } | { wrong: Wrongs } {
  const count = whole(form.count);
  const seconds = above(form.seconds);
  const size = sizeOf(form);
  const more = form.more.map(sizeOf);
  if (typeof count !== 'number' || typeof seconds !== 'number' || 'wrong' in size || more.some((one) => 'wrong' in one)) {
    return { wrong: { ...faults({ count, seconds }), ...wrongIn(size), ...moreWrong(more) } };
  }
  const moreSizes = more.flatMap((one) => ('size' in one ? [one.size] : []));
  const sized = { size: size.size, ...(moreSizes.length > 0 && { moreSizes }) };
  return { observation: { medium: form.medium, how: form.how, count, seconds, ...sized } };
}

type ReadSize = { size: Size } | { wrong: SizeWrongs };

function wrongIn(read: ReadSize): SizeWrongs {
  return 'wrong' in read ? read.wrong : {};
}

function moreWrong(more: ReadSize[]): Pick<Wrongs, 'more'> {
  return more.some((one) => 'wrong' in one) ? { more: more.map(wrongIn) } : {};
}

/** A size, or its fields with something wrong. */
function sizeOf(form: SizeForm): ReadSize {
  if (form.as === 'picture' && form.measured) return { size: form.measured };
  if (form.as !== 'tube') {
    const diameter = length(form.diameter, form.diameterUnit);
    if (typeof diameter !== 'number') return { wrong: { diameter } };
    const as = form.as === 'ring' ? 'ring' : 'diameter';
    return { size: { as, diameter: { value: diameter, unit: form.diameterUnit } } };
  }
  const share = above(form.share);
  const tube = length(form.tube, form.tubeUnit);
  if (typeof share !== 'number' || typeof tube !== 'number') return { wrong: faults({ share, tube }) };
  return { size: { as: 'tube', share, tube: { value: tube, unit: form.tubeUnit } } };
}

/** A length as text: inches as fractions, all else with all its digits. */
function lengthOf({ value, unit }: Amount): string {
  const text = lengthText(value, unit);
  return text.includes('/') ? text : textOf(value);
}

/** A length above zero; inches may be fractions. */
function length(text: string, unit: string): number | FieldFault {
  const value = typedLength(text, unit);
  return value === null ? above(text) : above(String(value));
}

function whole(text: string): number | FieldFault {
  const value = above(text);
  return typeof value === 'number' && !Number.isInteger(value) ? 'number' : value;
}

function faults<Field extends string>(read: Partial<Record<Field, number | FieldFault>>): Partial<Record<Field, FieldFault>> {
  const wrong: Partial<Record<Field, FieldFault>> = {};
  for (const field of Object.keys(read) as Field[]) {
    const value: number | FieldFault | undefined = read[field];
    if (typeof value === 'string') wrong[field] = value;
  }
  return wrong;
}

/** Seconds from the first tap to the last, to the millisecond. */
function between(taps: readonly number[]): number {
  const first = taps[0] ?? 0;
  return Number(((taps.at(-1) ?? first) - first).toFixed(3));
}
