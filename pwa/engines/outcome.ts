/** What a suite did in each engine, written down by the run itself. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { cpus, loadavg } from 'node:os';
import { join } from 'node:path';
import { writeTable } from '../long/table';

/** One step: it ran and held, or could not run, and then why. A step that fails ends the run, and nothing is written. */
export interface Step {
  step: string;
  ran: boolean;
  why?: string;
}

/** One engine's run. */
export interface EngineRun {
  engine: string;
  version: string;
  by: string;
  steps: Step[];
}

/** Where results go; a short run while developing says another folder. */
export const folder = process.env['LONG_INTO'] ?? join(import.meta.dirname, '..', 'long', 'figures');

/** Writes what a run found under its name, with when and on what machine, and the table of all anew. */
export function keep(name: string, what: object): void {
  const machine = { cores: cpus().length, load: Math.round((loadavg()[0] ?? 0) * 10) / 10 };
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(folder, `${name}.json`), `${JSON.stringify({ date: new Date().toISOString(), machine, ...what }, null, 2)}\n`);
  writeTable(folder);
}

/** A whole number given to the run, or the one that is required. */
export function wanted(name: string, required: number): number {
  const given = process.env[name];
  if (given === undefined || given === '') return required;
  const number = Number(given);
  if (!Number.isInteger(number) || number < 0) throw new Error(`${name}=${given} is no count`);
  return number;
}
