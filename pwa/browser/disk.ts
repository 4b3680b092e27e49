import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Installation } from './installation';

const bytes = 8 << 20;

/**
 * A small disk for a server's data. Where this user may mount one it is a disk of its own, in memory, filled to the last
 * byte; elsewhere the server is forbidden to write its files beyond their first page.
 */
export class Disk {
  readonly folder = mkdtempSync(join(tmpdir(), 'jointwalk-disk-'));
  private readonly ballast = join(this.folder, 'ballast');
  private readonly mounted = spawnSync('mount', ['-t', 'tmpfs', '-o', `size=${bytes}`, 'tmpfs', this.folder]).status === 0;

  fill(server: Installation): void {
    if (!this.mounted) return limit(server, '4096');
    try {
      for (;;) writeFileSync(this.ballast, Buffer.alloc(4096), { flag: 'a' });
    } catch (fault) {
      if ((fault as NodeJS.ErrnoException).code !== 'ENOSPC') throw fault;
    }
  }

  free(server: Installation): void {
    if (!this.mounted) return limit(server, 'unlimited');
    rmSync(this.ballast);
  }

  end(): void {
    if (this.mounted) execFileSync('umount', [this.folder]);
    rmSync(this.folder, { recursive: true });
  }
}

/** How large the files may be that a server writes. */
function limit(server: Installation, size: string): void {
  execFileSync('prlimit', ['--pid', String(server.pid), `--fsize=${size}:`]);
}
