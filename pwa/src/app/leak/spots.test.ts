import { expect, test } from 'vitest';
import type { RoundJoint, SpotCard } from '../../engine/types';
import { ofSpot, spotShown } from './spots';

const spot = (finding: string, named: string, state = 'open'): SpotCard => ({ finding, named, spot: named || '1', state, mark: 'drop' });
const joint = (spots: SpotCard[], finding: string): RoundJoint => ({
  id: 'j1', name: 'Port nut', kind: 'compression', circuit: 'test', mark: 'drop', before: 'blank', finding, spots, nextSpot: '3',
});

test('the joint shows its newest finding that stands, a named spot its own', () => {
  const two = joint([spot('a', ''), spot('b', '2')], 'b');
  expect([spotShown(two, undefined)?.finding, spotShown(two, '')?.finding, spotShown(two, '2')?.finding]).toEqual(['b', 'a', 'b']);
  expect(spotShown(two, '3')).toBeUndefined();
});

test('a spot that was mended and seen tight is counted anew', () => {
  const mended = joint([spot('a', '', 'on-spot'), spot('b', '2')], 'b');
  expect([spotShown(mended, ''), spotShown(mended, '2')?.finding]).toEqual([undefined, 'b']);
  expect(spotShown(joint([spot('a', '', 'gone')], 'a'), undefined)).toBeUndefined();
});

test('a spot has a name and a state of its own', () => {
  const two = joint([spot('a', '', 'waiting'), spot('b', '2')], 'b');
  expect(ofSpot(two, two.spots![0]!)).toMatchObject({ name: 'Port nut, spot 1', finding: 'a', state: 'waiting' });
});
