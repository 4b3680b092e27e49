/** How large bubbles are, while it is being said: pure steps from what is pressed and typed to sizes. */
import type { Amount, Size } from '../../engine/types';
import { lengthText, num, said, t, typedLength } from '../../words';

/**
 * The size of one bubble: a share of the tube (of the joint, unless the size was said beside another), a length as typed (in
 * mm unless it says), or what was sized in a way that this screen does not have and is kept as it was.
 */
export type SizeDraft =
  | { as: 'tube'; share: number; tube?: Amount }
  | { as: 'diameter' | 'ring'; text: string; unit?: string }
  | { as: 'kept'; size: Size };

/** The part of a draft that is about sizes. */
export interface Sizing {
  size: SizeDraft | null;
  /** Further bubbles of the same leak. */
  more?: SizeDraft[];
  /** Which bubble is being sized: 0 is `size`, 1 the first of `more`. */
  sizing?: number;
}

/** As many bubbles as a leak is sized by. */
export const mostSizes = 3;

/** All sizes that were given, in order. */
export function sizes({ size, more = [] }: Sizing): SizeDraft[] {
  return size === null ? [] : [size, ...more];
}

/** The size of the bubble that is being sized; null before it is given. */
export function current(draft: Sizing): SizeDraft | null {
  return sizes(draft)[draft.sizing ?? 0] ?? null;
}

/** The draft with the bubble that is being sized given a size. */
export function sizedAs<Draft extends Sizing>(draft: Draft, size: SizeDraft): Draft {
  const at = draft.sizing ?? 0;
  if (at === 0) return { ...draft, size };
  const more = [...(draft.more ?? [])];
  more[at - 1] = size;
  return { ...draft, more };
}

/** The draft without one of the further bubbles. */
export function dropped<Draft extends Sizing>(draft: Draft, at: number): Draft {
  return { ...draft, more: (draft.more ?? []).filter((_, i) => i !== at - 1), sizing: 0 };
}

/** Whether a size can be read. */
export function readable(size: SizeDraft): boolean {
  return !('text' in size) || lengthOf(size) !== null;
}

/** A size to be recorded; what cannot be read is zero, which the engine refuses. */
export function recorded(size: SizeDraft, tube: Amount | undefined): Size {
  if (size.as === 'kept') return size.size;
  if (size.as !== 'tube') return { as: size.as, diameter: { value: lengthOf(size) ?? 0, unit: unitOf(size) } };
  const beside = size.tube ?? tube;
  return beside === undefined ? { as: 'tube', share: size.share } : { as: 'tube', share: size.share, tube: beside };
}

/** A recorded size as a draft again: `recorded` gives the same back. */
export function drafted(size: Size): SizeDraft {
  const { as, share, tube, diameter } = size;
  if (as === 'tube' && share !== undefined) return tube ? { as, share, tube } : { as, share };
  if ((as === 'diameter' || as === 'ring') && diameter) {
    return { as, text: lengthText(diameter.value, diameter.unit), unit: diameter.unit };
  }
  return { as: 'kept', size };
}

/** A size in a few words: "½ tube", "3 mm", "ring 3 mm". */
export function sizeWords(size: SizeDraft): string {
  if (size.as === 'kept') return said('size.kept', size.size.as);
  if (size.as === 'tube') return t('size.ofTube', { share: said('leak.share', String(size.share)) });
  const length = `${num(size.text) || '–'} ${said('unit', unitOf(size))}`;
  return size.as === 'ring' ? t('size.ringOf', { size: length }) : length;
}

/** Whether the size being typed is one in inches. */
export function inInches(draft: Sizing): boolean {
  const size = current(draft);
  return size !== null && 'text' in size && unitOf(size) === 'in';
}

/** The unit of a length as typed. */
export function unitOf(size: { unit?: string }): string {
  return size.unit ?? 'mm';
}

function lengthOf(size: { text: string; unit?: string }): number | null {
  return typedLength(size.text, unitOf(size));
}
