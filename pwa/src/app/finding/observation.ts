/** The correction form: texts as typed, and the observation made of them. */
import type { Observation } from '../../engine/types';
import { above, type FieldFault, textOf } from '../desk/numbers';

/** Every field as text. A tapped count is corrected as a count between first and last. */
export interface ObservationForm {
  medium: string;
  how: 'window' | 'ten';
  count: string;
  seconds: string;
  as: 'tube' | 'diameter';
  share: string;
  tube: string;
  tubeUnit: string;
  diameter: string;
  diameterUnit: string;
}

/** The fields with something wrong. */
export type Wrongs = Partial<Record<keyof ObservationForm, FieldFault>>;

/** An observation as the texts of the form. */
export function formOf({ medium, how, count, seconds, taps, size }: Observation): ObservationForm {
  const tapped = how === 'taps';
  return {
    medium,
    how: tapped || how === 'ten' ? 'ten' : 'window',
    count: textOf(tapped ? (taps?.length ?? 0) : (count ?? 0)),
    seconds: textOf(tapped ? between(taps ?? []) : (seconds ?? 0)),
    as: size.as === 'tube' ? 'tube' : 'diameter',
    share: size.share === undefined ? '' : textOf(size.share),
    tube: size.tube ? textOf(size.tube.value) : '',
    tubeUnit: size.tube?.unit ?? 'mm',
    diameter: size.diameter ? textOf(size.diameter.value) : '',
    diameterUnit: size.diameter?.unit ?? 'mm',
  };
}

/** The observation, or the fields with something wrong. */
export function observationOf(form: ObservationForm): { observation: Observation } | { wrong: Wrongs } {
  const byTube = form.as === 'tube';
  const count = whole(form.count);
  const seconds = above(form.seconds);
  const size = above(byTube ? form.share : form.diameter);
  const tube = byTube ? above(form.tube) : 1;
  if (typeof count !== 'number' || typeof seconds !== 'number' || typeof size !== 'number' || typeof tube !== 'number') {
    return { wrong: faults({ count, seconds, [byTube ? 'share' : 'diameter']: size, tube }) };
  }
  return {
    observation: {
      medium: form.medium,
      how: form.how,
      count,
      seconds,
      size: byTube
        ? { as: 'tube', share: size, tube: { value: tube, unit: form.tubeUnit } }
        : { as: 'diameter', diameter: { value: size, unit: form.diameterUnit } },
    },
  };
}

function whole(text: string): number | FieldFault {
  const value = above(text);
  return typeof value === 'number' && !Number.isInteger(value) ? 'number' : value;
}

function faults(read: Partial<Record<keyof ObservationForm, number | FieldFault>>): Wrongs {
  const wrong: Wrongs = {};
  for (const field of Object.keys(read) as (keyof ObservationForm)[]) {
    const value = read[field];
    if (typeof value === 'string') wrong[field] = value;
  }
  return wrong;
}

/** Seconds from the first tap to the last, to the millisecond. */
function between(taps: readonly number[]): number {
  const first = taps[0] ?? 0;
  return Number(((taps.at(-1) ?? first) - first).toFixed(3));
}
