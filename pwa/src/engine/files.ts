/**
 * The fixed pool of files of this phone, in the origin private file system.
 * All are made in one go at the first start and their handles stay open for
 * the worker's life; never afterwards is one deleted or moved, until the device leaves for good.
 */
import { Fault } from './fault';

export const poolSize = 16;
/** The folder of all files of this device. */
export const folder = 'jointwalk';

/** Takes the pool away with all that is in it, once nobody holds it. */
export async function removePool(root: FileSystemDirectoryHandle): Promise<void> {
  await root.removeEntry(folder, { recursive: true });
}

const step = 10; // ms between tries for a handle that another tab holds
const patience = 3000; // ms

export interface Slot {
  name: string;
  handle: FileSystemSyncAccessHandle | null;
  /** Did not exist before this start. */
  fresh: boolean;
}

/** Opens the pool; null where the browser lends no synchronous handles. Faults: 'elsewhere'. */
export async function openPool(root: () => Promise<FileSystemDirectoryHandle>): Promise<Slot[] | null> {
  let home: FileSystemDirectoryHandle;
  try {
    home = await (await root()).getDirectoryHandle(folder, { create: true });
  } catch {
    return null;
  }
  const had = await names(home);
  const files = Array.from({ length: poolSize }, async (_, n): Promise<[string, FileSystemFileHandle]> => {
    const name = `pool-${String(n).padStart(2, '0')}`;
    return [name, await home.getFileHandle(name, { create: true })];
  });
  return handles(await Promise.all(files), had);
}

async function names(home: FileSystemDirectoryHandle): Promise<Set<string>> {
  const had = new Set<string>();
  for await (const name of home.keys()) had.add(name);
  return had;
}

/**
 * The first handle, by which one of two tabs that start together wins; then all others at once, since one after the other they
 * would be a good part of a start. Where one is not to be had, none is kept.
 */
async function handles(files: [string, FileSystemFileHandle][], had: Set<string>): Promise<Slot[] | null> {
  const until = performance.now() + patience;
  const slots: Slot[] = [];
  let failed: PromiseRejectedResult | undefined;
  for (const some of [files.slice(0, 1), files.slice(1)]) {
    const taken = await Promise.allSettled(some.map(([, file]) => take(file, until)));
    taken.forEach((result, n) => {
      const name = some[n]?.[0] ?? '';
      if (result.status === 'rejected') failed = result;
      else if (result.value) slots.push({ name, handle: result.value, fresh: !had.has(name) });
    });
    if (slots.length === 0) break;
  }
  if (slots.length === files.length) return slots;
  for (const { handle } of slots) handle?.close();
  if (failed) throw failed.reason;
  return null;
}

/** One handle, tried until the time is up; null where the browser has none or they are not synchronous. */
async function take(file: FileSystemFileHandle, until: number): Promise<FileSystemSyncAccessHandle | null> {
  if (!file.createSyncAccessHandle) return null;
  for (;;) {
    try {
      const handle = await file.createSyncAccessHandle();
      if ((handle.getSize() as unknown) instanceof Promise) return null;
      return handle;
    } catch (thrown) {
      if (!isTaken(thrown)) return null;
      if (performance.now() > until) throw new Fault('elsewhere');
      await new Promise((go) => setTimeout(go, step));
    }
  }
}

function isTaken(thrown: unknown): boolean {
  const name = thrown instanceof Error || thrown instanceof DOMException ? thrown.name : '';
  return name === 'NoModificationAllowedError' || name === 'InvalidStateError';
}

/** A pool in memory, for a phone that lends no files. */
export function memoryPool(): Slot[] {
  return Array.from({ length: poolSize }, (_, n) => ({ name: `memory-${n}`, handle: null, fresh: true }));
}
