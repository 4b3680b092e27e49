/** The figures of the last long runs as one page, made from what the runs wrote. */
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

/** Figures of one run, as they stand in its file. */
export type Figures = Record<string, unknown>;

const engines = ['chromium', 'firefox'];

/** Makes FIGURES.md anew in a folder with the files of runs; what has no file yet is said to be missing. */
export function writeTable(folder: string): void {
  const read = (name: string): Figures | undefined => {
    const path = join(folder, `${name}.json`);
    return existsSync(path) ? (JSON.parse(readFileSync(path, 'utf8')) as Figures) : undefined;
  };
  writeFileSync(join(folder, 'FIGURES.md'), page(read));
}

/** The page; `read` gives the figures of a run by its name. */
export function page(read: (name: string) => Figures | undefined): string {
  return [
    '# Figures of the long runs\n\nWritten by `make long` itself, never by hand. Each run ends red, and leaves its figures as they were, when anything is lost or doubled.\n',
    server(read('server')),
    sections(read, 'taps', 'The browser killed between a tap and "saved", and after, through the real screens', tapRows),
    sections(read, 'starts', 'The browser killed within a second of each start, under continuous writing', startRows),
    suite(read('engines')),
    limits,
  ].join('\n');
}

type Rows = [words: string, value: (run: Figures) => unknown][];

const common: Rows = [
  ['version', ({ version }) => version],
  ['date', ({ date }) => date],
  ['seed', ({ seed }) => seed],
  ['cores, load of the machine', ({ machine }) => inside(machine, 'cores', 'load')],
];

const tapRows: Rows = [
  ...common,
  ['kills between tap and "saved"', ({ between }) => between],
  ['of these: kept, though it was not said yet', ({ keptUnseen }) => keptUnseen],
  ['kills after "saved"', ({ after }) => after],
  ['of all: with the server killed too', ({ serverDown }) => serverDown],
  ['kinds of saving', ({ acts }) => Object.entries((acts ?? {}) as object).map(([name, n]) => `${name} ${n}`).join(', ')],
  ['press to "saved", median ms', ({ savedAfterMs }) => savedAfterMs],
  ['the page\'s process died by itself, and the browser was opened anew', ({ crashes }) => crashes ?? 'not counted'],
  ['looks kept on the phone', ({ looks }) => inside(looks, 'kept')],
  ['of these missing at the server in the end', ({ looks }) => length(looks, 'missing')],
  ['doubled', ({ looks }) => length(looks, 'doubled')],
  ['there though not kept', ({ looks }) => length(looks, 'strange')],
];

const startRows: Rows = [
  ...common,
  ['kills', ({ kills }) => kills],
  ['of these: before anything was acknowledged', ({ opening }) => opening],
  ['of these: with the server killed too', ({ serverDown }) => serverDown],
  ['page to first acknowledged event, median and most, ms', ({ firstMs }) => (firstMs as number[]).join(', ')],
  ['events acknowledged', ({ events }) => inside(events, 'kept')],
  ['of these missing at the server in the end', ({ events }) => length(events, 'missing')],
  ['doubled', ({ events }) => length(events, 'doubled')],
  ['kept and sent without an acknowledgement heard', ({ keptUnheard }) => keptUnheard],
];

const serverRows: Rows = [
  ['date', ({ date }) => date],
  ['seed', ({ seed }) => seed],
  ['phones that push', ({ clients }) => clients],
  ['kills under load', ({ kills }) => kills],
  ['of these: with a push unanswered', ({ inFlight }) => inFlight],
  ['kills in the midst of a start', ({ startKills }) => startKills],
  ['events acknowledged', ({ acknowledged }) => acknowledged],
  ['of these missing in the pulls, byte for byte', ({ missing }) => missing],
  ['doubled in the pulls', ({ doubled }) => doubled],
  ['kept, and the answer lost', ({ unanswered, duplicates }) => `${Number(unanswered) + Number(duplicates)}`],
  ["clean runs of bbolt's own check, one after each kill", ({ checks }) => checks],
  ['back after, ms: median, 95 %, most (3000 allowed)', ({ backMedian, back95, backMost }) => `${backMedian}, ${back95}, ${backMost}`],
  ['events acknowledged a second of load', ({ eventsPerLoad }) => eventsPerLoad],
  ['store at the end, bytes', ({ bytes }) => bytes],
];

function server(run: Figures | undefined): string {
  return section('The server killed under load', ['server'], serverRows, [run]);
}

function sections(read: (name: string) => Figures | undefined, kind: string, title: string, rows: Rows): string {
  return section(title, engines, rows, engines.map((engine) => read(`${kind}-${engine}`)));
}

function section(title: string, heads: readonly string[], rows: Rows, runs: readonly (Figures | undefined)[]): string {
  const body = rows.map(([words, value]) => line([words, ...runs.map((run) => (run ? String(value(run)) : 'not run'))]));
  return [`## ${title}\n`, line(['', ...heads]), line(['---', ...heads.map(() => '---:')]), ...body, ''].join('\n');
}

interface Run {
  engine: string;
  version: string;
  by: string;
  steps: { step: string; ran: boolean; why?: string }[];
}

/** Every step by every engine: held, or the number of the reason why it could not run. */
function suite(found: Figures | undefined): string {
  const title = '## One suite in three engines: capture, kill, sync\n';
  if (!found) return `${title}\nnot run\n`;
  const runs = found['engines'] as Run[];
  const names = [...new Set(runs.flatMap(({ steps }) => steps.map(({ step }) => step)))];
  const reasons = [...new Set(runs.flatMap(({ steps }) => steps.flatMap(({ why }) => why ?? [])))];
  const cell = (run: Run, name: string): string => {
    const step = run.steps.find((one) => one.step === name);
    if (!step) return 'not of this engine';
    return step.ran ? 'held' : `could not (${reasons.indexOf(step.why ?? '') + 1})`;
  };
  return [
    title,
    `${String(found['date'])}; ${runs.map(({ engine, version, by }) => `${engine}: ${version}, by ${by}`).join('; ')}.\n`,
    line(['step', ...runs.map(({ engine }) => engine)]),
    line(['---', ...runs.map(() => '---')]),
    ...names.map((name) => line([name, ...runs.map((run) => cell(run, name))])),
    '',
    ...reasons.map((why, n) => `${n + 1}. Could not: ${why}.`),
    '',
  ].join('\n');
}

const limits = `## What these runs cannot show

- SIGKILL ends a process; it is no loss of power. What the system had taken, it still wrote.
- The WebKit here is WebKitGTK without synchronous file handles: Safari's file system is not tested, nor is iOS.
- WebKit under automation keeps its profile in memory, so its offline start is one in the running browser.
- The network is cut by killing the server; a radio that comes and goes is not tested here.
- Firefox and WebKit are pressed with the mouse, Chromium with touches; all windows are 390 × 844.
- Chances come from the seed; what processor and kernel make of them does not repeat.
`;

function line(cells: readonly string[]): string {
  return `| ${cells.join(' | ')} |`;
}

function inside(of: unknown, ...names: string[]): string {
  return names.map((name) => String((of as Figures | undefined)?.[name])).join(', ');
}

function length(of: unknown, name: string): number {
  return (of as Record<string, unknown[]>)[name]?.length ?? Number.NaN;
}
