import { num, t } from '../words';

/** Positions on the bar, 0 to 1; limit and allowance below zero where there is none. */
export interface BarPlaces {
  low: number;
  median: number;
  high: number;
  limit: number;
  allowance: number;
}

const decades = ['0.001', '0.01', '0.1', '1', '10', '100'];
const left = 2;
const width = 96;

/**
 * A leak on a log scale from 0.001 to 100: the 95 % interval as a band, the
 * median as a dot, limit and allowance as two ticks. The engine gives the
 * places. `scale` adds the numbers and the words of the ticks. It says nothing
 * to a screen reader: the figure beside it does.
 */
export function Bar({ bar, scale = false }: { bar: BarPlaces; scale?: boolean }) {
  const y = scale ? 34 : 14;
  return (
    <svg class="bar" width="100%" height={scale ? 72 : 28} aria-hidden="true" focusable="false">
      <line class="line" x1={at(0)} x2={at(1)} y1={y} y2={y} />
      {decades.map((_, i) => (
        <line key={i} class="decade" x1={at(i / 5)} x2={at(i / 5)} y1={y - 4} y2={y + 4} />
      ))}
      <Band bar={bar} y={y} />
      <Tick place={bar.limit} kind="limit" y={y} />
      <Tick place={bar.allowance} kind="allowance" y={y} />
      {scale && <Words bar={bar} y={y} />}
    </svg>
  );
}

function Band({ bar, y }: { bar: BarPlaces; y: number }) {
  if (bar.median < 0) return null;
  const span = `${Math.max(0.6, (inside(bar.high) - inside(bar.low)) * width)}%`;
  return (
    <g>
      <rect class="span" x={at(bar.low)} width={span} y={y - 8} height="16" />
      <circle class="median" cx={at(bar.median)} cy={y} r="7" />
    </g>
  );
}

function Tick({ place, kind, y }: { place: number; kind: 'limit' | 'allowance'; y: number }) {
  if (place < 0) return null;
  return <line class={kind} x1={at(place)} x2={at(place)} y1={y - 13} y2={y + 13} />;
}

function Words({ bar, y }: { bar: BarPlaces; y: number }) {
  const high = bar.limit > 0.82;
  return (
    <g>
      {bar.limit >= 0 && (
        <text class="tick-word" x={at(bar.limit)} y={y - 18} dx={high ? 4 : -4} text-anchor={high ? 'end' : 'start'}>
          {t('bar.limit')}
        </text>
      )}
      {bar.allowance >= 0.3 && (
        <text class="tick-word" x={at(bar.allowance)} y={y - 18} dx="4" text-anchor="end">
          {t('bar.allowance')}
        </text>
      )}
      {decades.map((text, i) => i !== 1 && (
        <text key={text} x={at(i / 5)} y={y + 34} text-anchor={i === 0 ? 'start' : i === 5 ? 'end' : 'middle'}>
          {num(text)}
        </text>
      ))}
    </g>
  );
}

function at(place: number): string {
  return `${left + inside(place) * width}%`;
}

function inside(place: number): number {
  return Math.min(1, Math.max(0, place));
}
