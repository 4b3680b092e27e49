import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { memoryPool, openPool, poolSize } from './files';

/** A private file system of a browser in miniature. */
class Home {
  files = new Set<string>();
  open = new Set<string>();
  lends = true;
  promises = false;
  exclusive = false; // a file that is open is taken
  taken = 0; // tries that find the first file taken
  refuses: Error | undefined;
  asRoot = async () => ({ getDirectoryHandle: async () => this }) as unknown as FileSystemDirectoryHandle;

  async *keys() {
    yield* this.files;
  }

  async getFileHandle(name: string) {
    this.files.add(name);
    return this.lends ? { createSyncAccessHandle: () => this.lend(name) } : {};
  }

  private async lend(name: string) {
    if (this.refuses) throw this.refuses;
    if (this.exclusive) await new Promise((go) => setTimeout(go, 2 * Math.random()));
    if (this.taken > 0 || (this.exclusive && this.open.has(name))) {
      this.taken--;
      throw new DOMException('taken', 'NoModificationAllowedError');
    }
    this.open.add(name);
    return { getSize: () => (this.promises ? Promise.resolve(0) : 0), close: () => this.open.delete(name) };
  }
}

let home: Home;

beforeEach(() => {
  vi.useFakeTimers();
  home = new Home();
});

afterEach(() => {
  vi.useRealTimers();
});

test('the first start makes all files at once, and all are fresh', async () => {
  const slots = await openPool(home.asRoot);
  expect(slots).toHaveLength(poolSize);
  expect(slots?.every(({ fresh, handle }) => fresh && handle)).toBe(true);
  expect(new Set(slots?.map(({ name }) => name)).size).toBe(poolSize);
});

test('a later start finds them; one that was lost is made again and told as fresh', async () => {
  await openPool(home.asRoot);
  home.files.delete('pool-05');
  const slots = await openPool(home.asRoot);
  expect(slots?.filter(({ fresh }) => fresh).map(({ name }) => name)).toEqual(['pool-05']);
});

test('a handle that another tab gives up in time is taken', async () => {
  home.taken = 50;
  const opened = openPool(home.asRoot);
  await vi.advanceTimersByTimeAsync(1000);
  expect(await opened).toHaveLength(poolSize);
});

test('a handle that is never given up says elsewhere, and all others are closed again', async () => {
  home.taken = Number.POSITIVE_INFINITY;
  const opened = expect(openPool(home.asRoot)).rejects.toMatchObject({ code: 'elsewhere' });
  await vi.advanceTimersByTimeAsync(5000);
  await opened;
  expect(home.open.size).toBe(0);
});

test('of two tabs that start together one gets all files, and the other none', async () => {
  home.exclusive = true;
  const tabs = Promise.allSettled([openPool(home.asRoot), openPool(home.asRoot)]);
  await vi.advanceTimersByTimeAsync(10_000);
  const got = await tabs;
  expect(got.map(({ status }) => status).sort()).toEqual(['fulfilled', 'rejected']);
  expect(home.open.size).toBe(poolSize);
});

test('where handles cannot be had there is no pool', async () => {
  expect(await openPool(() => Promise.reject(new DOMException('private', 'SecurityError')))).toBeNull();
  home.lends = false;
  expect(await openPool(home.asRoot)).toBeNull();
  home.lends = true;
  home.promises = true; // older ones answer by promise: of no use to Go
  expect(await openPool(home.asRoot)).toBeNull();
  home.promises = false;
  home.refuses = new TypeError('Backend does not support this operation');
  expect(await openPool(home.asRoot)).toBeNull();
});

test('memory has as many files, all fresh', () => {
  expect(memoryPool()).toHaveLength(poolSize);
  expect(memoryPool().every(({ fresh, handle }) => fresh && handle === null)).toBe(true);
});
