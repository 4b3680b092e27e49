/**
 * Seconds of a practised person who makes no slip, by the keystroke-level model: S. K. Card, T. P. Moran, A. Newell, "The
 * keystroke-level model for user performance time with interactive systems", Communications of the ACM 23 (1980) 396–410. A
 * task is a row of operators, its time their sum. The values of K, P, H and M are the paper's, from memory; what the paper
 * does not time is a judgement, and said so.
 */

export type Operator = 'K' | 'P' | 'H' | 'M' | 'W' | 'S';

/** What an operator is, how long it takes in seconds, and where that comes from. */
export const operators: Record<Operator, { what: string; seconds: number; from: string }> = {
  K: { what: 'a press of a key, or of the thumb on what it points at', seconds: 0.2, from: 'the paper, an average skilled typist; from memory' },
  P: { what: 'pointing at a place, with thumb or pen', seconds: 1.1, from: 'the paper, measured with a mouse; from memory' },
  H: { what: 'the hand from one thing to another', seconds: 0.4, from: 'the paper, keyboard to mouse; from memory' },
  M: { what: 'making up one’s mind', seconds: 1.35, from: 'the paper; from memory' },
  W: { what: 'a character written by hand', seconds: 0.5, from: 'judgement, no source: some 24 words of five letters a minute' },
  S: { what: 'a stroke of the pen: a tick, a bracket along some lines', seconds: 0.3, from: 'judgement, no source' },
};

/** What is done. */
export interface Act {
  what: string;
  /** Its operators in order, e.g. "MPK". */
  does: string;
  /** Seconds that the hand is kept besides. */
  holds?: number;
  /** R: seconds of waiting or watching that no form shortens. */
  waits?: number;
}

export interface Times {
  /** Seconds of the person's own acts. */
  acting: number;
  /** Seconds of R: the solution is watched, bubbles come. */
  waiting: number;
}

/** The time of a task. Panics on a letter that is no operator. */
export function timeOf(acts: readonly Act[]): Times {
  let [acting, waiting] = [0, 0];
  for (const { what, does, holds = 0, waits = 0 } of acts) {
    acting += holds;
    waiting += waits;
    for (const letter of does) {
      const one = operators[letter as Operator];
      if (!one) throw new Error(`keystrokes: ${letter} in "${what}" is no operator`);
      acting += one.seconds;
    }
  }
  return { acting, waiting };
}

/** A tap that has to be decided on; one that follows from the one before needs no decision. */
export const tap = (what: string, decided = true): Act => ({ what, does: decided ? 'MPK' : 'PK' });

/** A button that a thumb is held on. */
export const hold = (what: string, seconds: number): Act => ({ what, does: 'MPK', holds: seconds });

/** What is written by hand at a place that has to be pointed at. */
export const write = (what: string, text: string): Act => ({ what, does: `P${'W'.repeat([...text].length)}` });

/** A round as both ways meet it. */
export interface Round {
  /** Joints in each group. */
  groups: readonly number[];
  /** Seconds that a group is watched. */
  watched: number;
  /** Seconds that ten bubbles take at each leak. */
  leaks: readonly number[];
}

/**
 * The round sheet: pen in one hand, the sheet printed with the fixture, its joints in place order, a line each, and the
 * conditions of last time; a stopwatch at the neck. To be fair it is a good sheet and a good hand: a whole group is ticked by
 * one bracket, last time's conditions by one tick, names and tag are printed, no line is looked for twice, and nobody types
 * it into anything later.
 */
export function onPaper({ groups, watched, leaks }: Round): Act[] {
  const group = (joints: number): Act[] => [
    { what: 'takes the stopwatch, starts it', does: 'HK', waits: watched },
    { what: 'stops it, takes the pen', does: 'KH' },
    { what: `a bracket along ${joints} lines: nothing seen`, does: 'MPS' },
    write('the seconds', '30'),
  ];
  const leak = (seconds: number, n: number): Act[] => [
    { what: 'a cross at the line', does: 'MPS' },
    { what: 'takes the stopwatch, starts it at a bubble', does: 'MHK', waits: seconds },
    { what: 'stops it at the tenth, takes the pen', does: 'KH' },
    write(`how many in how long, at leak ${n + 1}`, `10/${seconds.toFixed(1)}s`),
    { what: 'judges the size', does: 'M' },
    write('the size', '¼ tube'),
  ];
  return [
    { what: 'takes clipboard and pen', does: 'HH' },
    { what: 'a tick: conditions as last time', does: 'MPS' },
    write('date and time', '27.11. 9:40'),
    ...groups.flatMap(group),
    ...leaks.flatMap(leak),
    write('time of the end, initials', '9:55 AB'),
  ];
}

/**
 * A leak rate worked out from the sheet with a pocket calculator: π/6·d³·n/t, then its share of the limit. The phone shows
 * both unasked; a sheet without them says less.
 */
export function workedOut({ leaks }: Round): Act[] {
  const keys = '3.14159/6*1.5=*1.5*1.5*10/6.0='.length;
  return leaks.flatMap((_, n): Act[] => [
    { what: 'takes the calculator', does: 'MH' },
    { what: `volume flow of leak ${n + 1}`, does: `M${'K'.repeat(keys)}` },
    { what: 'its share of the limit', does: `M${'K'.repeat('/.17='.length)}` },
    { what: 'takes the pen', does: 'H' },
    write('flow and share', '2.9 17%'),
  ]);
}
