import type { ComponentChildren } from 'preact';

/** What is drawn on the joint. */
export type Drawn = 'single' | 'froth-creeping' | 'string' | 'growing-bursting' | 'heard' | 'blown-off';

type Spot = readonly [x: number, y: number, r: number];

const collar: readonly Spot[] = [
  [51, 60, 4], [45, 64, 3], [53, 67, 3], [47, 71, 4], [41, 70, 2.5], [52, 75, 3], [46, 79, 3.5], [52, 83, 4], [40, 78, 2.5],
  [45, 88, 3], [52, 91, 3], [39, 86, 2], [108, 61, 3.5], [114, 65, 2.5], [108, 69, 3.5], [109, 77, 3], [115, 73, 3], [109, 85, 4], [115, 82, 2],
];
const string: readonly Spot[] = [
  [82, 54, 2], [82, 48, 2.2], [81, 42, 2.2], [80, 36, 2.4], [80, 29.5, 2.4], [81, 23, 2.6], [83, 16.5, 2.6], [84, 9.5, 2.8],
];
const growing: readonly Spot[] = [[72, 41, 17], [97, 48, 10], [106, 22, 5]];
const foam: readonly Spot[] = [
  [62, 50, 8], [74, 47, 10], [88, 48, 9], [99, 52, 7], [68, 35, 7], [81, 32, 8], [93, 36, 6], [76, 22, 5], [86, 20, 4], [55, 57, 5],
];
const flying: readonly Spot[] = [[58, 30, 3], [48, 18, 2.5], [66, 14, 3], [98, 12, 3], [104, 28, 3], [116, 18, 2], [92, 24, 2], [70, 27, 2]];

const drawings: Record<Drawn, () => ComponentChildren> = {
  single: () => <Spots of={[[80, 42, 15], [104, 24, 12]]} />,
  'froth-creeping': () => <Spots of={collar} />,
  string: () => <Spots of={string} />,
  'growing-bursting': () => (
    <>
      <Spots of={growing} />
      <path class="burst" d="M124 30l7-3M123 40l8 1M127 50l6 4M138 24l2-7M142 54l3 6M147 33l7-3M148 44l7 2" />
    </>
  ),
  heard: () => (
    <>
      <Spots of={foam} />
      <path class="sound" d="M118 34a14 14 0 0 1 0 18M126 27a24 24 0 0 1 0 32M134 20a34 34 0 0 1 0 46" />
    </>
  ),
  'blown-off': () => (
    <>
      <path class="sound" d="M80 56V4M74 56 62 40M86 56l12-16M77 50 70 32M83 50l7-18" />
      <Spots of={flying} />
    </>
  ),
};

/** A joint on a tube, and what its bubbles look like. The words beside it say the same. */
export function Drawing({ of }: { of: Drawn }) {
  return (
    <svg class="help-drawing" viewBox="0 0 160 100" aria-hidden="true" focusable="false">
      <path class="tube" d="M0 66h160v22H0z" />
      <path class="nut" d="M56 58h48v38H56zM72 58v38M88 58v38" />
      {drawings[of]()}
    </svg>
  );
}

function Spots({ of }: { of: readonly Spot[] }) {
  return (
    <g class="bubble">
      {of.map(([x, y, r]) => (
        <circle key={`${x} ${y}`} cx={x} cy={y} r={r} />
      ))}
    </g>
  );
}
