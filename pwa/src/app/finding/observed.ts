/** What was observed, in words, as it was entered. */
import type { Amount, Observation, Size } from '../../engine/types';
import { lengthText, num, said, t } from '../../words';

/** The count, the gas or the class as it was entered. */
export function counted({ how, count, seconds, taps, volume, class: looks }: Observation): string {
  if (how === 'class') return said('class', looks ?? '');
  if (how === 'collected') {
    return t('finding.collected', { volume: num(volume?.value ?? 0), unit: said('unit', volume?.unit ?? ''), seconds: seconds ?? 0 });
  }
  if (how === 'dome' || how === 'froth') return t('finding.grewValue', { seconds: seconds ?? 0 });
  if (how === 'taps') return t('finding.count-taps', { n: taps?.length ?? 0, seconds: taps?.at(-1) ?? 0 });
  return t(how === 'ten' ? 'finding.count-ten' : 'finding.count-window', { n: count ?? 0, seconds: seconds ?? 0 });
}

/** The size of a bubble as it was entered. */
export function sizeWords({ as, share, tube, diameter }: Size): string {
  if (as === 'tube' && tube) return t('finding.size-share', { share: share ?? 0, ...length(tube, 'tube') });
  if (as === 'picture') return t('finding.size-picture');
  if (!diameter) return '';
  return t(as === 'ring' ? 'finding.size-ring' : 'finding.size-diameter', length(diameter, 'value'));
}

/** All sizes as they were entered. */
export function sizesWords({ size, moreSizes = [] }: Observation): string {
  return [size, ...moreSizes].map(sizeWords).join('; ');
}

/** An amount for words: its number under a name, its unit. */
function length({ value, unit }: Amount, name: string) {
  return { [name]: num(lengthText(value, unit)), unit: said('unit', unit) };
}

/** How far the water in the measure stood above that outside; '' where that was not read. */
export function headWords({ head }: Observation): string {
  return head ? t('finding.headValue', { value: num(head.value), unit: said('unit', head.unit) }) : '';
}

/** How high a dome stood, or by how much froth grew; '' where nobody saw it. */
export function heightWords({ height }: Observation): string {
  return height ? t('finding.heightValue', length(height, 'value')) : '';
}

/** All of it in one line. */
export function observed(seen: Observation): string {
  const parts = [counted(seen), said('how', seen.how), said('medium', seen.medium), sizesWords(seen), headWords(seen), heightWords(seen)];
  return parts.filter(Boolean).join(' · ');
}
