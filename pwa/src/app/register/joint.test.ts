import { expect, test } from 'vitest';
import type { Fixture } from '../../engine/types';
import { again, beginning, called, copyOf, draftOf } from './joint';

const nut = { id: 'j1', name: 'Nut 1', kind: 'compression', circuit: 'test', order: 3, tube: { value: 6, unit: 'mm' } };
const fixture = { id: 'f', site: 's', base: 'e1', joints: [nut] } as unknown as Fixture;

test('the next joint is like the last one, and called after its kind', () => {
  const next = beginning(fixture);
  expect(next).toMatchObject({ kind: 'compression', circuit: 'test', size: '6', unit: 'mm', name: null });
  expect(called(next, 'compression fitting', fixture.joints)).toBe('Compression fitting 1');
  expect(called({ ...next, name: 'Nut 1' }, '', fixture.joints)).toBe('Nut 2');
});

test('the same again: name and place go on, even before the list has heard of the last one', () => {
  const first = draftOf(beginning(fixture), 'Nut 2', fixture);
  expect(first).toMatchObject({ kind: 'joint-added', site: 's', fixture: 'f', body: { name: 'Nut 2', order: 4, tube: { value: 6, unit: 'mm' } } });
  const next = again(beginning(fixture), 'Nut 2', 4);
  expect(called(next, '', fixture.joints)).toBe('Nut 3');
  expect(draftOf(next, 'Nut 3', fixture)?.body).toMatchObject({ order: 5 });
});

test('a size that is no length is not saved; none is none', () => {
  expect(draftOf({ ...beginning(fixture), size: 'six' }, 'a', fixture)).toBeNull();
  expect(draftOf({ ...beginning(fixture), size: '-1' }, 'a', fixture)).toBeNull();
  expect(draftOf({ ...beginning(fixture), size: ' ' }, 'a', fixture)?.body).not.toHaveProperty('tube');
});

test('a copy has the joints in their order, and the program where there is none', () => {
  const program = { id: 'p', program: { name: 'Air', seen: ['x'] } };
  const from = { ...fixture, program, joints: [nut, { ...nut, name: 'Plug', tube: undefined }] } as unknown as Fixture;
  const to = { id: 'g', site: 's', base: 'e9', joints: [] } as unknown as Fixture;
  expect(copyOf(from, to)).toEqual([
    { kind: 'joint-added', site: 's', fixture: 'g', body: { name: 'Nut 1', kind: 'compression', circuit: 'test', tube: { value: 6, unit: 'mm' }, order: 1 } },
    { kind: 'joint-added', site: 's', fixture: 'g', body: { name: 'Plug', kind: 'compression', circuit: 'test', order: 2 } },
    { kind: 'program-set', site: 's', fixture: 'g', base: 'e9', body: { name: 'Air' } },
  ]);
  expect(copyOf(from, { ...to, program } as unknown as Fixture)).toHaveLength(2);
});
