/** The processes of a browser: found by who started them, and killed all at once. */
import { readdirSync, readFileSync } from 'node:fs';

interface Told {
  id: number;
  parent: number;
  group: number;
}

/** The process, all of its group and all that they started, by their ids. */
export function family(id: number): number[] {
  const all = everyProcess();
  const found = new Set<number>(all.filter((one) => one.id === id || one.group === id).map((one) => one.id));
  for (let grown = true; grown; ) {
    const young = all.filter((one) => found.has(one.parent) && !found.has(one.id));
    for (const one of young) found.add(one.id);
    grown = young.length > 0;
  }
  return [...found];
}

/** What kills all of them when it is called, without a pause in between, and resolves when none is left. */
export function aimedAt(ids: readonly number[]): () => Promise<void> {
  return async () => {
    for (const id of ids) end(id);
    await gone(ids);
  };
}

function end(id: number): void {
  try {
    process.kill(id, 'SIGKILL');
  } catch {
    // gone with its parent
  }
}

/** Waits until none of them is left, zombies aside; up to 10 s. */
async function gone(ids: readonly number[]): Promise<void> {
  const late = Date.now() + 10_000;
  while (ids.some(lives)) {
    if (Date.now() > late) throw new Error(`processes outlive SIGKILL: ${ids.filter(lives).join(' ')}`);
    await new Promise((resolve) => setTimeout(resolve, 5));
  }
}

function lives(id: number): boolean {
  const state = stat(id)?.[0];
  return state !== undefined && state !== 'Z' && state !== 'X';
}

function everyProcess(): Told[] {
  return readdirSync('/proc')
    .filter((name) => /^\d+$/.test(name))
    .map(Number)
    .flatMap((id) => {
      const [, parent, group] = stat(id) ?? [];
      return parent === undefined || group === undefined ? [] : [{ id, parent: Number(parent), group: Number(group) }];
    });
}

/** The fields of /proc/ID/stat behind the name: state, parent, group; undefined when it is gone. */
function stat(id: number): string[] | undefined {
  try {
    const text = readFileSync(`/proc/${id}/stat`, 'utf8');
    return text.slice(text.lastIndexOf(')') + 2).split(' ');
  } catch {
    return undefined;
  }
}
