import { expect, test } from 'vitest';
import { asksSpare, begunMend, caused, looking, mendAct, mendBody, resumedMend } from './mending';
import { again, anotherWay, begun, entered, missing, observed, reopened, resultOf, resumed, stopped } from './observation';
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
  expect(observed(reopened(seen, {}), tube)).toEqual(seen);
});

test('a reopened time for another number of bubbles than ten keeps its number; counting again is ten', () => {
  const seen = { medium: 'film', how: 'ten', count: 12, seconds: 20, size: { as: 'diameter', diameter: { value: 3, unit: 'mm' } } };
  const draft = reopened(seen, {});
  expect(observed(draft, tube)).toEqual(seen);
  expect(observed(entered(draft, 'count', '14'), tube)?.count).toBe(14);
  expect(observed(stopped(again(draft), 18), tube)).toEqual({ ...seen, count: 10, seconds: 18 });
});

test('gas wants a time and a volume; a head is kept only where it was read', () => {
  const timed = stopped(begun('film', 'collected'), 120);
  expect([missing(timed), timed.target]).toEqual(['volume', 'volume']);
  const gas = entered(timed, 'volume', '4,5');
  const seen = { medium: 'water', how: 'collected', seconds: 120, volume: { value: 4.5, unit: 'mL' }, size: { as: 'none' } };
  expect(observed(gas, tube)).toEqual(seen);
  const lower = { ...entered(gas, 'head', '30'), lower: true };
  expect(observed(lower, tube)).toEqual({ ...seen, head: { value: -30, unit: 'mm' } });
  expect(observed(reopened(observed(lower, tube)!, {}), tube)).toEqual(observed(lower, tube));
});

test('a dome wants a time and a size; a height is kept only where it was seen', () => {
  const timed = stopped(begun('water', 'dome'), 8);
  expect([missing(timed), timed.target]).toEqual(['size', null]);
  const dome = { ...timed, size: { as: 'tube', share: 1 } as const };
  const seen = { medium: 'film', how: 'dome', seconds: 8, size: { as: 'tube', share: 1, tube } };
  expect(observed(dome, tube)).toEqual(seen);
  expect(missing(entered(dome, 'height', '.'))).toBe('height');
  const high = { ...seen, height: { value: 2.5, unit: 'mm' } };
  expect(observed(entered(dome, 'height', '2,5'), tube)).toEqual(high);
  expect(observed(reopened(high, {}), tube)).toEqual(high);
});

test('froth wants by how much it grew, in inches too, before its size; what grows has one size', () => {
  const two = { ...begun('film', 'window'), size: { as: 'tube', share: 1 } as const, more: [{ as: 'tube', share: 0.5 } as const], sizing: 1 };
  const froth = stopped(anotherWay(two, 'froth', 'in'), 60);
  expect([missing(froth), froth.target]).toEqual(['height', 'height']);
  expect(observed(entered(froth, 'height', '1/8'), tube)).toEqual({
    medium: 'film', how: 'froth', seconds: 60, size: { as: 'tube', share: 1, tube }, height: { value: 0.125, unit: 'in' },
  });
  expect(missing({ ...entered(froth, 'height', '1/8'), size: null })).toBe('size');
  expect(anotherWay(two, 'taps', 'mm')).toMatchObject({ how: 'taps', more: two.more, sizing: 1 });
});

test('a class wants no number; heard and blown off are gross', () => {
  const draft = begun('film', 'class');
  expect(missing(draft)).toBe('class');
  const froth = observed({ ...draft, looks: 'froth-creeping' }, tube)!;
  expect(froth).toEqual({ medium: 'film', how: 'class', class: 'froth-creeping', size: { as: 'none' } });
  expect([resultOf(froth), resultOf({ ...froth, class: 'heard' }), resultOf({ ...froth, class: 'blown-off' })]).toEqual(['leaks', 'gross', 'gross']);
});

test('what was tried comes back with a correction', () => {
  const seen = observed({ ...begun('film', 'class'), looks: 'string' }, tube)!;
  expect(reopened(seen, { vented: 'went-on', rewets: 2 })).toMatchObject({ wiped: 'not-tried', vented: 'went-on', rewets: 2 });
});

test('after a kill a stopwatch runs on, taps are over', () => {
  expect(resumed({ ...begun('film', 'ten'), startedAt: 5 }).startedAt).toBe(5);
  const taps = { ...begun('film', 'taps'), startedAt: 5, taps: [0, 1.2] };
  expect(resumed(taps)).toMatchObject({ startedAt: null, counted: true, taps: [0, 1.2] });
  const { volumeUnit, ...old } = begun('film', 'window');
  expect([volumeUnit, resumed(old as typeof taps).volumeUnit]).toEqual(['mL', 'mL']);
});

test('a second tap within 80 ms is a ghost, at 80 ms it counts', () => {
  expect(tapped([], 5000, 5000)).toEqual([0]);
  expect(tapped([0], 5000, 5079)).toEqual([0]);
  expect(tapped([0], 5000, 5080)).toEqual([0, 0.08]);
  expect(tapped([0, 1.5], 5000, 6540)).toEqual([0, 1.5]);
});

test('a repair asks for vented, cause and action; a cause proposes its usual action once', () => {
  const vented = { ...begunMend(), vented: true };
  expect([mendAct(begunMend(), false), mendAct(vented, false)]).toEqual(['none', 'cause']);
  const loose = caused(vented, 'loose');
  expect([loose.action, mendAct(loose, false)]).toEqual(['tightened', 'second']);
  expect(caused(loose, 'dirt').action).toBe('cleaned');
  expect(caused({ ...loose, action: 'other' }, 'dirt').action).toBe('other');
  expect(mendAct(caused(vented, 'unknown'), false)).toBe('action');
  expect(mendAct({ ...loose, secondAt: 1 }, false)).toBe('seen');
});

test('a second look runs after three taps where the usual action fits, after four where it does not', () => {
  const usual = [
    (draft: ReturnType<typeof begunMend>) => ({ ...draft, vented: true }),
    (draft: ReturnType<typeof begunMend>) => caused(draft, 'loose'),
    (draft: ReturnType<typeof begunMend>) => looking(draft, 'after', 1000),
  ];
  expect(usual.reduce((draft, tap) => tap(draft), begunMend())).toMatchObject({ secondAt: 1000, order: 'after', action: 'tightened' });
  const other = [...usual.slice(0, 2), (draft: ReturnType<typeof begunMend>) => ({ ...draft, action: 'other' }), ...usual.slice(2)];
  expect(other).toHaveLength(4);
  expect(mendAct(other.reduce((draft, tap) => tap(draft), begunMend()), false)).toBe('seen');
});

test('a repair that waits lacks its second look only, whatever its draft says', () => {
  expect(mendAct(begunMend(), true)).toBe('second');
  expect(mendAct(looking(begunMend(), 'vented', 5), true)).toBe('seen');
});

test('a spare part is asked for where one goes in, and written only then', () => {
  const worn = { ...caused({ ...begunMend(), vented: true }, 'seal-worn'), spare: ' ferrule 6 ' };
  expect(asksSpare(worn)).toBe(true);
  expect(mendBody(worn, 'later')).toEqual({ when: 'later', vented: true, cause: 'seal-worn', action: 'seal-replaced', spare: 'ferrule 6' });
  const cleaned = { ...worn, action: 'cleaned' };
  expect(asksSpare(cleaned)).toBe(false);
  expect(mendBody(cleaned, 'on-spot')).toEqual({ when: 'on-spot', vented: true, cause: 'seal-worn', action: 'cleaned' });
});

test('a draft of an older version goes on without what it did not know', () => {
  const { spare: _spare, order: _order, ...old } = caused({ ...begunMend(), vented: true }, 'loose');
  expect(resumedMend(old as ReturnType<typeof begunMend>)).toEqual({ ...begunMend(), vented: true, cause: 'loose', action: 'tightened' });
});

test('a size measured in a picture stays when the count is corrected', () => {
  const at = { x: 1, y: 1 };
  const picture = { hash: 'a'.repeat(64), width: 9, height: 9, marks: [at, at, at, at], rim: [at, at, at] };
  const seen = { medium: 'film', how: 'window', count: 5, seconds: 10, size: { as: 'picture', picture } };
  expect(observed({ ...reopened(seen, {}), count: '6' }, undefined)).toEqual({ ...seen, count: 6 });
});
