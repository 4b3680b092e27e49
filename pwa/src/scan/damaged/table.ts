/** What still reads: each damage at each level of error correction, read by the reader that the app uses. */
import type { Damage } from './picture';

/** A row of the table, and what is promised of it at the level that labels are printed at: the least share read. */
export interface Row {
  words: string;
  damage: Damage;
  promised?: number;
}

const percent = (share: number) => `${Number((100 * share).toFixed(1))} %`;

function family(words: (amount: number) => string, damage: (amount: number) => Damage, amounts: readonly number[], upto: number): Row[] {
  return amounts.map((one, i) => ({ words: words(one), damage: damage(one), ...(i < upto && { promised: 0.95 }) }));
}

/** All rows; the first ones of each family, as many as its last number says, are promised. */
export const rows: readonly Row[] = [
  { words: 'as printed', damage: {}, promised: 1 },
  ...family((a) => `oil that lets two thirds of the light back, over ${percent(a)} of the code`, (share) => ({ blots: { share, through: 0.67 } }), [0.05, 0.1, 0.2], 2),
  ...family((a) => `black spots over ${percent(a)} of the code`, (share) => ({ blots: { share, through: 0 } }), [0.02, 0.05, 0.1], 0),
  ...family((a) => `the corner without a square torn off, ${percent(a)} of the code`, (share) => ({ corner: { share, pattern: false } }), [0.05, 0.1, 0.2], 2),
  ...family((a) => `a corner with a square torn off, ${percent(a)} of the code`, (share) => ({ corner: { share, pattern: true } }), [0.005, 0.02, 0.05], 0),
  ...family((a) => `a strip along an edge gone, ${percent(a)} of the side`, (edge) => ({ edge }), [0.02, 0.05, 0.1], 0),
  ...family((a) => `seen ${a}° from straight above`, (tilt) => ({ tilt }), [30, 45, 60], 2),
  ...family((a) => `a streak of glare, ${percent(a)} of the side wide`, (glare) => ({ glare }), [0.04, 0.08, 0.12], 0),
  ...family((a) => `blurred by ${(100 * a).toFixed(1)} % of the side (σ)`, (blur) => ({ blur }), [0.01, 0.015, 0.02], 1),
  ...family((a) => `contrast of ${percent(a)}`, (contrast) => ({ contrast }), [0.3, 0.15, 0.08], 2),
  ...family((a) => `${a} pixels wide in the picture`, (pixels) => ({ pixels }), [80, 60, 50, 40], 2),
];
