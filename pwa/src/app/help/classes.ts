/** Published and assumed figures that the help tells; the test beside this file holds them to their sources. */

/** Between which leak rates a class lies, in std cm³/min at 0 °C. */
export interface Span {
  code: 'froth-creeping' | 'string' | 'growing-bursting' | 'heard' | 'blown-off';
  low: string;
  top: string;
  /** There is no upper end. */
  open: boolean;
}

/** From the smallest leak to the largest. */
export const classes: readonly Span[] = [
  { code: 'froth-creeping', low: '0.0005', top: '0.05', open: false },
  { code: 'string', low: '0.01', top: '1', open: false },
  { code: 'growing-bursting', low: '0.2', top: '20', open: false },
  { code: 'heard', low: '3', top: '300', open: false },
  { code: 'blown-off', low: '20', top: '2000', open: true },
];

/** ASTM E515-11(2018) 1.1: the normal limit of sensitivity, in std cm³/s at 0 °C, and the same for a minute. */
export const sensitivity = { rate: '0.00001', minute: '0.0006' };
