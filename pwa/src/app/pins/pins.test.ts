import { expect, test } from 'vitest';
import type { JointCard } from '../../engine/types';
import { nextUnpinned, pinnedOf } from './pins';

function joints(...pinned: string[]): JointCard[] {
  return ['a', 'b', 'c'].map((id) => ({
    id, event: '', name: id, kind: 'flared', circuit: 'test', order: 0, mark: 'blank', history: [],
    ...(pinned.includes(id) ? { pin: { photo: 'p', x: 0, y: 0 } } : {}),
  }));
}

test('joints are pinned in place order, and those left out come round again', () => {
  expect(nextUnpinned(joints(), null)).toBe('a');
  expect(nextUnpinned(joints('a'), 'a')).toBe('b');
  expect(nextUnpinned(joints('c'), 'c')).toBe('a');
  expect(nextUnpinned(joints('a', 'c'), 'b')).toBeNull();
  expect(pinnedOf(joints('a', 'c'))).toBe(2);
});
