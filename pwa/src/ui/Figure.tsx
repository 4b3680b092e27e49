import { num, said, t } from '../words';
import { Bar, type BarPlaces } from './Bar';

/** A number that matters, as the engine gives it: plain strings with a dot. */
export interface FigureValue {
  median: string;
  low: string;
  high: string;
  unit: string;
  ref: string;
  bar: BarPlaces;
}

/** A unit in words with its reference conditions, e.g. "std cm³/min (0 °C)". */
export function unitWords(unit: string, ref?: string): string {
  const words = said('unit', unit);
  return ref ? t('unit.withRef', { unit: words, ref: said('ref', ref) }) : words;
}

/**
 * A leak rate: the number largest with its unit, under it the 95 % interval
 * and the bar. `list` makes it one of many: text size, a bar without numbers;
 * `low` keeps the number large but leaves the bar's numbers out.
 */
export function Figure({ figure, list = false, low = list }: { figure: FigureValue; list?: boolean; low?: boolean }) {
  return (
    <figure class={list ? 'figure in-list' : 'figure'}>
      <div class="value">
        <strong>{num(figure.median)}</strong>
        <span>{unitWords(figure.unit, figure.ref)}</span>
      </div>
      <p class="small soft">{t('figure.interval', { low: figure.low, high: figure.high })}</p>
      <Bar bar={figure.bar} scale={!low} />
    </figure>
  );
}
