/** What was observed, in words, as it was entered. */
import type { Observation, Size } from '../../engine/types';
import { num, said, t } from '../../words';

/** The count as it was entered. */
export function counted({ how, count, seconds, taps }: Observation): string {
  if (how === 'taps') return t('finding.count-taps', { n: taps?.length ?? 0, seconds: taps?.at(-1) ?? 0 });
  return t(how === 'ten' ? 'finding.count-ten' : 'finding.count-window', { n: count ?? 0, seconds: seconds ?? 0 });
}

/** The size of a bubble as it was entered. */
export function sizeWords({ as, share, tube, diameter }: Size): string {
  if (as === 'tube' && tube) {
    return t('finding.size-share', { share: share ?? 0, tube: num(tube.value), unit: said('unit', tube.unit) });
  }
  return diameter ? t('finding.size-diameter', { value: num(diameter.value), unit: said('unit', diameter.unit) }) : '';
}

/** All of it in one line. */
export function observed(seen: Observation): string {
  return [counted(seen), said('how', seen.how), said('medium', seen.medium), sizeWords(seen.size)].join(' · ');
}
