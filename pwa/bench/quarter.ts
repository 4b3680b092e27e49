/**
 * Holds a process to a quarter of a core, in slices of 10 ms: the kernel's bandwidth control. On one processor: of a slice that
 * was lent to another one the rest lapses, so that threads which wait for each other would get much less than a quarter.
 */
import { execFileSync } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, rmdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

const period = 10_000; // µs
const share = 0.25;
const processor = '0';

export class Quarter {
  private constructor(
    private readonly folder: string,
    private readonly before: string,
  ) {}

  /** A cgroup of its own, of either version; null where this user may not make one. */
  static make(): Quarter | null {
    for (const [root, limits] of [
      ['/sys/fs/cgroup/cpu', { 'cpu.cfs_period_us': `${period}`, 'cpu.cfs_quota_us': `${period * share}` }],
      ['/sys/fs/cgroup', { 'cpu.max': `${period * share} ${period}` }],
    ] as const) {
      const folder = join(root, `jointwalk-bench-${process.pid}`);
      try {
        mkdirSync(folder);
        if (Object.keys(limits).every((name) => existsSync(join(folder, name)))) {
          for (const [name, value] of Object.entries(limits)) writeFileSync(join(folder, name), value);
          return new Quarter(folder, root);
        }
        rmdirSync(folder);
      } catch {
        // the next one
      }
    }
    return null;
  }

  /** Holds a process with all of its threads; gives what lets it go. */
  hold(id: number): () => void {
    execFileSync('taskset', ['--all-tasks', '--cpu-list', '--pid', processor, `${id}`], { stdio: 'ignore' });
    writeFileSync(join(this.folder, 'cgroup.procs'), `${id}`);
    return () => writeFileSync(join(this.before, 'cgroup.procs'), `${id}`);
  }

  end(): void {
    rmdirSync(this.folder);
  }
}

const tick = 10; // ms, the kernel's unit in /proc

/** The processors' time of a process so far, ms. */
export function worked(id: number): number {
  const [user, system] = (readFileSync(`/proc/${id}/stat`, 'utf8').split(') ')[1] ?? '').split(' ').slice(11, 13);
  return (Number(user) + Number(system)) * tick;
}
