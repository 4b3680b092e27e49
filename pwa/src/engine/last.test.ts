import { beforeEach, expect, test } from 'vitest';
import { LastHome, lastHome } from './last';
import type { Home } from './types';

const list = (name: string): Home => ({ sites: [{ id: 's', name, fixtures: [] }] });

/** One file of a browser in miniature. */
let text: string | undefined;
let writes: number;
let open: number;
let failing: boolean;

const handle = {
  getSize: () => new TextEncoder().encode(text ?? '').length,
  read: (into: Uint8Array) => into.set(new TextEncoder().encode(text ?? '')),
  truncate: () => {
    text = '';
  },
  write: (bytes: Uint8Array) => {
    writes++;
    if (failing) throw new DOMException('full', 'QuotaExceededError');
    text = new TextDecoder().decode(bytes);
    return bytes.length;
  },
  flush: () => undefined,
  close: () => void open--,
};

async function lend() {
  if (open > 0) throw new DOMException('taken', 'NoModificationAllowedError');
  open++;
  return handle;
}

const file = { createSyncAccessHandle: lend, getFile: async () => ({ text: async () => text }) };
const folder = {
  getFileHandle: async (_: string, how?: { create: boolean }) => {
    if (text === undefined && !how?.create) throw new DOMException('none', 'NotFoundError');
    return file;
  },
};
const root = async () => ({ getDirectoryHandle: async () => folder }) as unknown as FileSystemDirectoryHandle;

beforeEach(() => {
  text = undefined;
  writes = 0;
  open = 0;
  failing = false;
});

test('the newest list is found again, however quickly they came', async () => {
  expect(await lastHome(root)).toBeNull();
  const last = new LastHome(root);
  await Promise.all(['a', 'b', 'c'].map((name) => last.keep(list(name))));
  expect(await lastHome(root)).toEqual(list('c'));
});

test('the same list is not written again, nor at the next start', async () => {
  const last = new LastHome(root);
  await last.keep(list('a'));
  await last.keep(list('a'));
  await new LastHome(root).keep(list('a'));
  expect(writes).toBe(1);
  await new LastHome(root).keep(list('b'));
  expect(await lastHome(root)).toEqual(list('b'));
});

test('one that was forgotten, torn, or made by another version of the app is none', async () => {
  const last = new LastHome(root);
  await last.keep(list('a'));
  await last.keep(null);
  expect(text).toBe('');
  expect(await lastHome(root)).toBeNull();
  await last.keep(list('a'));
  text = text?.slice(0, 20);
  expect(await lastHome(root)).toBeNull();
  text = JSON.stringify({ app: 'another', home: list('a') });
  expect(await lastHome(root)).toBeNull();
});

test('a full device is no trouble, and the file is not left open', async () => {
  const last = new LastHome(root);
  failing = true;
  await last.keep(list('a'));
  expect(open).toBe(0);
  expect(await lastHome(root)).toBeNull();
  failing = false;
  await last.keep(list('b'));
  expect(await lastHome(root)).toEqual(list('b'));
});
