/** Synthetic wet-glass touches: ghosts, second fingers, a palm that smears, drops during a hold. */
import { describe, expect, it } from 'vitest';
import { holdFor, holding, type Touch, touches } from './touches';

const at = (what: Touch['what'], ms: number, id = 1, x = 100, y = 100): Touch => ({ what, at: ms, id, x, y });

const worth = { tap: 1, undo: -1, none: 0 };

/** How many taps stand after all of some touches. */
function counted(all: readonly Touch[]): number {
  const follow = touches();
  return all.reduce((n, touch) => n + worth[follow(touch) ?? 'none'], 0);
}

/** A finger that comes down and lifts 90 ms later. */
const tap = (ms: number, id = 1, x = 100): Touch[] => [at('down', ms, id, x), at('up', ms + 90, id, x)];

/** Numbers from 0 to 1 that are the same in every run (a linear congruence; constants of Numerical Recipes, from memory). */
function random(seed: number): () => number {
  let state = seed;
  return () => (state = (state * 1664525 + 1013904223) % 4294967296) / 4294967296;
}

describe('taps on wet glass', () => {
  it('counts clean taps, each once', () => {
    expect(counted([0, 400, 900, 1200].flatMap((ms) => tap(ms)))).toBe(4);
  });

  it('takes no ghost: a touch within 80 ms after another came or went', () => {
    expect(counted([...tap(0), ...tap(169, 2)])).toBe(1);
    expect(counted([...tap(0), ...tap(170, 2)])).toBe(2);
    expect(counted([...tap(0), at('down', 120, 2), at('up', 130, 2), at('down', 200, 3), at('up', 205, 3), ...tap(400)])).toBe(2);
  });

  it('ignores second fingers, and a drop that stays as a third', () => {
    expect(counted([at('down', 0), at('down', 200, 2), at('up', 300, 2), at('down', 400, 3), at('up', 500), at('up', 600, 3), ...tap(900)])).toBe(2);
  });

  it('takes back a palm: it smears, or the screen gives it up', () => {
    expect(counted([...tap(0), at('down', 500), at('move', 520, 1, 110), at('move', 560, 1, 180), at('up', 700, 1, 180), ...tap(1000)])).toBe(2);
    expect(counted([...tap(0), at('down', 500), at('cancel', 640), ...tap(1000)])).toBe(2);
    expect(counted([at('down', 0), at('move', 30, 1, 110), at('up', 90, 1, 110)])).toBe(1);
    expect(counted([at('down', 0), at('move', 30, 1, 180), at('cancel', 60)])).toBe(0);
  });

  it('gets over a touch whose end was lost', () => {
    expect(counted([at('down', 0), ...tap(500, 2), { ...at('down', 900, 3), alone: true }, at('up', 990, 3), ...tap(1300, 4)])).toBe(3);
  });

  it('does not count the press that started it', () => {
    const follow = touches(1000);
    expect(follow(at('down', 1050))).toBe(null);
  });

  it('counts exactly the true taps of a hundred wet runs', () => {
    for (let seed = 1; seed <= 100; seed++) {
      const draw = random(seed);
      const all: Touch[] = [];
      let now = 0;
      let truth = 0;
      for (let n = 0; n < 30; n++) {
        now += 250 + 500 * draw();
        const id = 10 * n;
        const kind = draw();
        if (kind < 0.2) {
          all.push(at('down', now, id), at('move', now + 30, id, 100 + 60 * draw() + 25), at('cancel', now + 100, id));
          continue;
        }
        truth++;
        all.push(...tap(now, id));
        if (kind < 0.5) all.push(at('down', now + 91 + 60 * draw(), id + 1), at('up', now + 155, id + 1));
        else if (kind < 0.7) all.push(at('down', now + 20, id + 2, 300), at('up', now + 60, id + 2, 300));
      }
      expect(counted(all.sort((a, b) => a.at - b.at)), `seed ${seed}`).toBe(truth);
    }
  });
});

/** Whether a hold is done at some moment, looked at each 20 ms as the screen does. */
function done(all: readonly Touch[], until = 3000): boolean {
  const hold = holding();
  const left = [...all];
  for (let now = 0; now <= until; now += 20) {
    while (left[0] && left[0].at <= now) hold.touch(left.shift()!);
    if (hold.filled(now) >= 1) return true;
  }
  return false;
}

describe('hold to save', () => {
  it('saves when held, and not before', () => {
    expect(done([at('down', 0)])).toBe(true);
    expect(done([at('down', 0), at('up', holdFor - 20)])).toBe(false);
    const hold = holding();
    hold.touch(at('down', 0));
    expect([hold.filled(0), hold.filled(holdFor / 2), hold.filled(holdFor)]).toEqual([0, 0.5, 1]);
  });

  it('saves nothing by taps, however many, nor by drops', () => {
    expect(done(Array.from({ length: 20 }, (_, n) => tap(150 * n)).flat())).toBe(false);
    expect(done(Array.from({ length: 20 }, (_, n) => [at('down', 100 * n, n, 40 * (n % 3)), at('up', 100 * n + 30, n, 40 * (n % 3))]).flat())).toBe(false);
  });

  it('goes on over a contact that broke for a moment, and begins anew after a longer one', () => {
    expect(done([at('down', 0), at('up', 300), at('down', 330, 2), at('up', 700, 2)])).toBe(true);
    expect(done([at('down', 0), at('up', 300), at('down', 345, 2), at('up', 700, 2)])).toBe(false);
    expect(done([at('down', 0), at('up', 590)])).toBe(false);
  });

  it('is not disturbed by a drop beside, and is given up by a smear or a palm', () => {
    expect(done([at('down', 0), at('down', 100, 2, 300), at('up', 200, 2, 300)])).toBe(true);
    expect(done([at('down', 0), at('down', 100, 2, 300), at('up', 500), at('up', 2000, 2, 300)])).toBe(false);
    expect(done([at('down', 0), at('move', 200, 1, 140), at('up', 2000, 1, 140)])).toBe(false);
    expect(done([at('down', 0), at('cancel', 400)])).toBe(false);
  });
});
