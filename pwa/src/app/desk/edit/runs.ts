/** Runs of tube that a fixture has: they are names only, and one name spelled in two ways would be two runs. */

/** The runs that some joints are on, each once, in their order. */
export function runsOf(joints: readonly { run?: string }[]): string[] {
  return [...new Set(joints.map(({ run = '' }) => run).filter((run) => run !== ''))];
}

/** A run as it is spelled already, where it differs in capitals and spaces only. */
export function asSpelled(run: string, runs: readonly string[]): string {
  return runs.find((known) => plain(known) === plain(run)) ?? run.trim();
}

function plain(run: string): string {
  return run.replace(/\s+/g, '').toLocaleLowerCase();
}
