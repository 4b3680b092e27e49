import { expect, test } from 'vitest';
import { Account, Acknowledged } from './account';

const act = { round: 'r', joints: ['a', 'b'], result: 'none' };
const look = (joint: string, result = 'none') => ({ round: 'r', joint, result });

test('kept, and arrived once: nothing is wrong', () => {
  const account = new Account();
  expect(account.settle(act, true, 2)).toBe(true);
  expect(account.reckon([look('b'), look('a')])).toEqual({ kept: 2, missing: [], doubled: [], strange: [] });
});

test('shown as saved and gone is a loss', () => {
  expect(() => new Account().settle(act, true, 0)).toThrow('shown as saved, and gone: r a none, r b none');
});

test('half of one saving is a loss, whatever was shown', () => {
  expect(() => new Account().settle(act, true, 1)).toThrow('1 of 2');
  expect(() => new Account().settle(act, false, 1)).toThrow('1 of 2');
  expect(() => new Account().settle(act, false, 3)).toThrow('3 of 2');
});

test('not shown may be kept or not; what was not kept must not turn up', () => {
  const account = new Account();
  expect(account.settle(act, false, 0)).toBe(false);
  expect(account.settle({ ...act, joints: ['c'] }, false, 1)).toBe(true);
  expect(account.reckon([look('c'), look('a')])).toEqual({ kept: 1, missing: [], doubled: [], strange: ['r a none'] });
});

test('missing, doubled and of another result are found', () => {
  const account = new Account();
  account.settle(act, true, 2);
  account.settle({ ...act, joints: ['c'], result: 'leaks' }, true, 1);
  const found = account.reckon([look('a'), look('a'), look('c')]);
  expect(found).toEqual({ kept: 3, missing: ['r b none', 'r c leaks'], doubled: ['r a none'], strange: ['r c none'] });
});

test('acknowledged events: each must arrive once, and no place be given again', () => {
  const told = new Acknowledged();
  told.take('x', 1);
  told.take('y', 4);
  expect(told.count).toBe(2);
  expect(() => told.take('z', 4)).toThrow('given again');
  expect(told.reckon(['x', 'y', 'w'])).toEqual({ kept: 2, missing: [], doubled: [] });
  expect(told.reckon(['x', 'x'])).toEqual({ kept: 2, missing: ['y'], doubled: ['x'] });
});
