import { describe, expect, test } from 'vitest';
import { hold, onPaper, tap, timeOf, workedOut, write } from './keystrokes';

const round = { groups: [5, 5, 4], watched: 30, leaks: [6, 4] };

describe('the keystroke-level model', () => {
  test('a task takes the sum of its operators, and waiting is kept apart', () => {
    const { acting, waiting } = timeOf([{ what: 'one', does: 'MPKK' }, { what: 'two', does: 'H', waits: 7 }]);
    expect(acting).toBeCloseTo(1.35 + 1.1 + 2 * 0.2 + 0.4, 12);
    expect(waiting).toBe(7);
    expect(timeOf([])).toEqual({ acting: 0, waiting: 0 });
  });

  test('a letter that is no operator is a mistake of the caller', () => {
    expect(() => timeOf([{ what: 'x', does: 'MX' }])).toThrow('keystrokes: X in "x" is no operator');
  });

  test('taps, holds, writing', () => {
    expect(tap('a')).toEqual({ what: 'a', does: 'MPK' });
    expect(tap('a', false)).toEqual({ what: 'a', does: 'PK' });
    expect(hold('a', 0.6)).toEqual({ what: 'a', does: 'MPK', holds: 0.6 });
    expect(timeOf([hold('a', 0.6)])).toEqual({ acting: timeOf([tap('a')]).acting + 0.6, waiting: 0 });
    expect(write('a', '¼ tube').does).toBe('PWWWWWW');
  });

  test('both ways wait for the same: the solution and the bubbles', () => {
    expect(timeOf(onPaper(round)).waiting).toBe(3 * 30 + 6 + 4);
    expect(timeOf(workedOut(round)).waiting).toBe(0);
  });

  test('a sheet without leaks is brackets and numbers: worked out by hand', () => {
    // clipboard 2 H; tick M P S; 11 characters; a group: H K K H, M P S, P 2 W; end: 7 characters
    const fixed = 0.8 + (1.35 + 1.1 + 0.3) + (1.1 + 11 * 0.5) + (1.1 + 7 * 0.5);
    const group = 1.2 + (1.35 + 1.1 + 0.3) + (1.1 + 2 * 0.5);
    expect(timeOf(onPaper({ ...round, leaks: [] })).acting).toBeCloseTo(fixed + 3 * group, 12);
  });

  test('each leak adds to the sheet, and more to what is worked out', () => {
    const leaks = (n: number) => ({ ...round, leaks: Array<number>(n).fill(6) });
    const [none, one, two] = [0, 1, 2].map((n) => timeOf(onPaper(leaks(n))).acting) as [number, number, number];
    expect(one - none).toBeCloseTo(two - one, 12);
    expect(one).toBeGreaterThan(none);
    expect(timeOf(workedOut(leaks(0))).acting).toBe(0);
  });
});
