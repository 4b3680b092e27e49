import { describe, expect, test } from 'vitest';
import type { Observation, Size } from '../../engine/types';
import { begun, entered, entry, missing, observed, reopened, stopped } from './observation';
import { ringAfter } from './rings';
import { current, drafted, dropped, recorded, sizedAs, sizes } from './size';

const tube = { value: 6, unit: 'mm' };
const share = { as: 'tube', share: 0.5 } as const;
const counted = entered(stopped(begun('film', 'window'), 20), 'count', '6');

describe('sizes of up to three bubbles', () => {
  test('each goes to its place, and one can be left out again', () => {
    const one = sizedAs(counted, share);
    const two = sizedAs({ ...one, sizing: 1 }, { as: 'diameter', text: '3', unit: 'mm' });
    const three = sizedAs({ ...two, sizing: 2 }, { as: 'ring', text: '2.5' });
    expect(observed(one, tube)).not.toHaveProperty('moreSizes');
    expect(observed(three, tube)).toMatchObject({
      size: { as: 'tube', share: 0.5, tube },
      moreSizes: [{ as: 'diameter', diameter: { value: 3, unit: 'mm' } }, { as: 'ring', diameter: { value: 2.5, unit: 'mm' } }],
    });
    expect(sizes(dropped(three, 1)).map((size) => size.as)).toEqual(['tube', 'ring']);
    expect(current(dropped(three, 1))).toEqual(share);
  });

  test('one that is not typed yet keeps the leak from being saved', () => {
    const begunOne = entered({ ...sizedAs(counted, share), sizing: 1 }, 'size', '');
    expect([missing(begunOne), observed(begunOne, tube)]).toEqual(['size', null]);
    const typed = entered(begunOne, 'size', '4');
    expect([missing(typed), entry(typed, 'size')]).toEqual([null, '4']);
  });

  test('inches are typed as fractions and stay inches', () => {
    const inches = entered(sizedAs(counted, { as: 'diameter', text: '', unit: 'in' }), 'size', '3/16');
    expect(observed(inches, tube)?.size).toEqual({ as: 'diameter', diameter: { value: 0.1875, unit: 'in' } });
    expect(missing(entered(inches, 'size', '3/'))).toBe('size');
  });
});

test('a draft kept before there were several sizes is read as one', () => {
  const old = { ...counted, size: share };
  expect(observed(old, tube)?.size).toEqual({ ...share, tube });
  expect(sizes(sizedAs({ ...old, sizing: 1 }, share))).toHaveLength(2);
});

test('a correction begins with every size as it was, whatever its unit, tube or way', () => {
  const all: Size[] = [
    { as: 'tube', share: 0.3, tube: { value: 0.25, unit: 'in' } },
    { as: 'diameter', diameter: { value: 0.3, unit: 'cm' } },
    { as: 'diameter', diameter: { value: 0.1875, unit: 'in' } },
    { as: 'ring', diameter: { value: 3.5, unit: 'mm' } },
    { as: 'picture', diameter: { value: 3.47, unit: 'mm' } },
  ];
  for (const size of all) expect(recorded(drafted(size), tube)).toEqual(size);
  const seen: Observation = { medium: 'film', how: 'window', count: 6, seconds: 20, size: all[0]!, moreSizes: all.slice(1, 3) };
  expect(observed(reopened(seen, {}), tube)).toEqual(seen);
});

test('rings go from 1 to 10 mm by halves', () => {
  let ring = 1;
  const seen = [ring];
  while (ringAfter(ring, 1) !== ring) seen.push((ring = ringAfter(ring, 1)));
  expect([seen.length, seen[1], seen.at(-1), ringAfter(1, -1)]).toEqual([19, 1.5, 10, 1]);
});
