import { expect, test } from 'vitest';
import type { SetAside } from '../../link/asides';
import { again, opened, plain, unread } from './again';

const aside = { hash: 'h', code: 'not-yours', by: 'p', kind: 'joint-edited', site: 's', fixture: 'f', of: 'j', at: '', line: '', mine: true, may: false } as SetAside;
const line = JSON.stringify({ v: 1, base: 'e1', body: { name: 'Nut', order: 2.5, tube: { value: 6, unit: 'mm' }, round: 'r' } });

function read(text: string) {
  const found = opened(text);
  if (!found) throw new Error('not read');
  return found;
}

test('texts and numbers can be amended; what points elsewhere, or has parts, stays', () => {
  expect(plain(read(line))).toEqual([
    { field: 'name', text: 'Nut', number: false },
    { field: 'order', text: '2.5', number: true },
  ]);
});

test('it is sent about the same thing, from the same base, with all that was not amended', () => {
  const fields = [
    { field: 'name', text: ' Left nut ', number: false },
    { field: 'order', text: '3,25', number: true },
  ];
  expect(again(aside, read(line), fields)).toEqual({
    kind: 'joint-edited', site: 's', fixture: 'f', of: 'j', base: 'e1',
    body: { name: 'Left nut', order: 3.25, tube: { value: 6, unit: 'mm' }, round: 'r' },
  });
  expect(again({ ...aside, fixture: '', of: '' }, { body: {} }, [])).toEqual({ kind: 'joint-edited', site: 's', body: {} });
});

test('a number that cannot be read is not sent', () => {
  expect(unread([{ field: 'order', text: 'two', number: true }])).toBe(true);
  expect(unread([{ field: 'name', text: 'two', number: false }])).toBe(false);
});

test('a line that is no record opens to nothing', () => {
  for (const text of ['', '{', '[]', 'null', '{"body":null}', '{"v":1}']) expect(opened(text)).toBeNull();
});
