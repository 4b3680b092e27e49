/**
 * The list of fixtures as this device last told it, in a file beside the pool: a cold start shows it until the engine has read
 * its own files. It is no record: lost or unreadable, the start shows nothing until then.
 */
import { folder } from './files';
import type { Home } from './types';

const name = 'last-list';
type Root = () => Promise<FileSystemDirectoryHandle>;

/** What is kept, by which version of the app. */
interface Kept {
  app: string;
  home: Home;
}

/** The list; null where there is none that this version of the app made. Never rejects. */
export async function lastHome(root: Root): Promise<Home | null> {
  try {
    const home = await (await root()).getDirectoryHandle(folder);
    const text = await (await (await home.getFileHandle(name)).getFile()).text();
    const kept = JSON.parse(text) as Kept;
    return kept.app === APP_VERSION ? kept.home : null;
  } catch {
    return null;
  }
}

/** Keeps the newest list, one write at a time and only where it differs. */
export class LastHome {
  private kept: string | undefined;
  private last: Promise<void> = Promise.resolve();

  constructor(private readonly root: Root) {}

  /** Keeps a list; null forgets it. Never rejects: what was not kept is missed once. */
  keep(home: Home | null): Promise<void> {
    const text = home === null ? '' : JSON.stringify({ app: APP_VERSION, home } satisfies Kept);
    if (text === this.kept) return this.last;
    this.kept = text;
    this.last = this.last.then(() => this.write(text)).catch(() => undefined);
    return this.last;
  }

  private async write(text: string): Promise<void> {
    const home = await (await this.root()).getDirectoryHandle(folder, { create: true });
    const handle = await (await home.getFileHandle(name, { create: true })).createSyncAccessHandle?.();
    if (!handle) return;
    try {
      const bytes = new TextEncoder().encode(text);
      if (holds(handle, bytes)) return; // each start tells the same again: a kill meanwhile would take it for nothing
      handle.truncate(0); // a kill before the end leaves what is no JSON
      handle.write(bytes, { at: 0 });
      handle.flush();
    } finally {
      handle.close();
    }
  }
}

function holds(handle: FileSystemSyncAccessHandle, bytes: Uint8Array): boolean {
  const kept = new Uint8Array(handle.getSize());
  handle.read(kept, { at: 0 });
  return kept.length === bytes.length && kept.every((byte, n) => byte === bytes[n]);
}
