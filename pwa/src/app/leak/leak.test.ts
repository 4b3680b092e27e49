import { expect, test } from 'vitest';
import { begunMend, caused, mendAct } from './mending';
import { again, begun, entered, missing, observed, reopened, stopped } from './observation';
import { tapped } from './taps';

const tube = { value: 6, unit: 'mm' };

test('a window wants a time, a count and a size, in this order', () => {
  const start = begun('film', 'window');
  expect(missing(start)).toBe('time');
  const timed = stopped(start, 20.3);
  expect([missing(timed), timed.target]).toEqual(['count', 'count']);
  const counted = entered(timed, 'count', '12');
  expect([missing(counted), observed(counted, tube)]).toEqual(['size', null]);
  expect(observed({ ...counted, size: { as: 'tube', share: 0.5 } }, tube)).toEqual({
    medium: 'film', how: 'window', count: 12, seconds: 20.3, size: { as: 'tube', share: 0.5, tube },
  });
});

test('ten bubbles want no count, taps want two of them', () => {
  const ten = { ...stopped(begun('water', 'ten'), 8), size: { as: 'diameter', text: '2,5' } as const };
  expect(observed(ten, undefined)).toEqual({
    medium: 'water', how: 'ten', count: 10, seconds: 8, size: { as: 'diameter', diameter: { value: 2.5, unit: 'mm' } },
  });
  const taps = { ...begun('film', 'taps'), counted: true, size: { as: 'tube', share: 1 } as const };
  expect(missing({ ...taps, taps: [0] })).toBe('time');
  expect(observed({ ...taps, taps: [0, 1.2] }, tube)?.taps).toEqual([0, 1.2]);
});

test('a size of zero goes to the engine, which says why it cannot be; an empty one waits', () => {
  const draft = entered(stopped(begun('film', 'ten'), 9), 'size', '0');
  expect(observed(draft, tube)?.size).toEqual({ as: 'diameter', diameter: { value: 0, unit: 'mm' } });
  expect(missing(entered(draft, 'size', ''))).toBe('size');
});

test('counting again keeps the size; reopening gives the same observation', () => {
  const draft = { ...entered(stopped(begun('film', 'window'), 20), 'count', '6'), size: { as: 'tube', share: 0.25 } as const };
  expect(again(draft).size).toEqual({ as: 'tube', share: 0.25 });
  expect(missing(again(draft))).toBe('time');
  const seen = observed(draft, tube)!;
  expect(observed(reopened(seen, undefined), tube)).toEqual(seen);
});

test('a second tap within 80 ms is a ghost, at 80 ms it counts', () => {
  expect(tapped([], 5000, 5000)).toEqual([0]);
  expect(tapped([0], 5000, 5079)).toEqual([0]);
  expect(tapped([0], 5000, 5080)).toEqual([0, 0.08]);
  expect(tapped([0, 1.5], 5000, 6540)).toEqual([0, 1.5]);
});

test('a repair asks for vented, cause and action; a cause proposes its usual action once', () => {
  const vented = { ...begunMend(), vented: true };
  expect([mendAct(begunMend()), mendAct(vented)]).toEqual(['none', 'cause']);
  const loose = caused(vented, 'loose');
  expect([loose.action, mendAct(loose)]).toEqual(['tightened', 'second']);
  expect(caused(loose, 'dirt').action).toBe('cleaned');
  expect(caused({ ...loose, action: 'other' }, 'dirt').action).toBe('other');
  expect(mendAct(caused(vented, 'unknown'))).toBe('action');
  expect(mendAct({ ...loose, secondAt: 1 })).toBe('seen');
});
