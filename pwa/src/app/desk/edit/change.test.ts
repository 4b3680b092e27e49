import { expect, test } from 'vitest';
import type { JointCard } from '../../../engine/types';
import { changed, seenOf } from './change';

const joint = { name: 'Nut', kind: 'flared', circuit: 'test', tube: { value: 6, unit: 'mm' }, run: 'hose A' } as JointCard;
const same = { name: 'Nut', kind: 'flared', circuit: 'test', run: 'hose A' };

test('only what differs is named', () => {
  expect(changed(joint, { ...same, tube: { value: 6, unit: 'mm' } })).toEqual({});
  expect(changed(joint, { ...same, name: 'Left nut' })).toEqual({ name: 'Left nut' });
  expect(changed(joint, { ...same, kind: 'weld', circuit: 'vent' })).toEqual({ kind: 'weld', circuit: 'vent' });
});

test('a size differs by value or unit, and one that is left out stays', () => {
  expect(changed(joint, { ...same, tube: { value: 6, unit: 'in' } })).toEqual({ tube: { value: 6, unit: 'in' } });
  expect(changed(joint, { ...same, tube: { value: 8, unit: 'mm' } })).toEqual({ tube: { value: 8, unit: 'mm' } });
  expect(changed(joint, same)).toEqual({});
});

test('a run differs by its name, and an empty one takes it off', () => {
  expect(changed(joint, { ...same, run: 'hose B' })).toEqual({ run: 'hose B' });
  expect(changed(joint, { ...same, run: '' })).toEqual({ run: '' });
  expect(changed({ ...joint, run: undefined } as JointCard, { ...same, run: '' })).toEqual({});
});

test('what was seen is named where there is any', () => {
  expect(seenOf({ seen: ['e1'] })).toEqual({ seen: ['e1'] });
  expect(seenOf({})).toEqual({});
});
