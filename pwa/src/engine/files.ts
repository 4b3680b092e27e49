/**
 * The fixed pool of files of this phone, in the origin private file system.
 * All are made in one go at the first start and their handles stay open for
 * the worker's life; never afterwards is one deleted or moved.
 */
import { Fault } from './fault';

export const poolSize = 16;
const folder = 'jointwalk';
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
  const files: [string, FileSystemFileHandle][] = [];
  for (let n = 0; n < poolSize; n++) {
    const name = `pool-${String(n).padStart(2, '0')}`;
    files.push([name, await home.getFileHandle(name, { create: true })]);
  }
  return handles(files, had);
}

async function names(home: FileSystemDirectoryHandle): Promise<Set<string>> {
  const had = new Set<string>();
  for await (const name of home.keys()) had.add(name);
  return had;
}

async function handles(files: [string, FileSystemFileHandle][], had: Set<string>): Promise<Slot[] | null> {
  const slots: Slot[] = [];
  const until = performance.now() + patience;
  try {
    for (const [name, file] of files) {
      const handle = await take(file, until);
      if (!handle) return null;
      slots.push({ name, handle, fresh: !had.has(name) });
    }
  } catch (thrown) {
    for (const slot of slots) slot.handle?.close();
    throw thrown;
  }
  return slots;
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
