/** A pasted list of joints: one a line, "name; kind; circuit; size; run". Nothing is guessed silently. */
import type { Amount } from '../../../engine/types';
import { typed } from '../../../words';
import { asSpelled, runsOf } from './runs';

/** What was not understood in a line, with the text that was not. */
export interface Misread {
  what: 'name' | 'kind' | 'circuit' | 'size' | 'more';
  text: string;
}

/** One line as it was understood; an empty kind or circuit is still to be chosen. */
export interface PastedJoint {
  line: number;
  name: string;
  kind: string;
  circuit: string;
  tube?: Amount;
  /** The run of tube that it sits on. */
  run?: string;
  misread: Misread[];
}

/** The codes of a vocabulary with all words that mean each. */
export type Names = readonly { code: string; words: readonly string[] }[];

/** Read a list. A line without a circuit is taken for the test side, as most joints are; a run that is there already as it is spelled there. */
export function parse(text: string, kinds: Names, circuits: Names, runs: readonly string[] = []): PastedJoint[] {
  const read = text
    .split(/\r?\n/)
    .map((line, at) => ({ line: line.trim(), at: at + 1 }))
    .filter(({ line }) => line !== '')
    .map(({ line, at }) => parseLine(line, at, kinds, circuits));
  const spelled = [...runs, ...runsOf(read)];
  return read.map((joint) => (joint.run === undefined ? joint : { ...joint, run: asSpelled(joint.run, spelled) }));
}

function parseLine(line: string, at: number, kinds: Names, circuits: Names): PastedJoint {
  const [name = '', kindText = '', circuitText = '', sizeText = '', run = '', ...more] = line.split(/[;\t]/).map((part) => part.trim());
  const kind = codeOf(kindText, kinds);
  const circuit = circuitText === '' ? 'test' : codeOf(circuitText, circuits);
  const tube = sizeOf(sizeText);
  const misread: Misread[] = [];
  if (name === '') misread.push({ what: 'name', text: '' });
  if (kind === '') misread.push({ what: 'kind', text: kindText });
  if (circuit === '') misread.push({ what: 'circuit', text: circuitText });
  if (tube === null) misread.push({ what: 'size', text: sizeText });
  if (more.some((part) => part !== '')) misread.push({ what: 'more', text: more.join('; ') });
  return { line: at, name, kind, circuit, ...(tube ? { tube } : {}), ...(run !== '' && { run }), misread };
}

/** The one code that a text means: its word, or the beginning of just one; "" when none or several. */
export function codeOf(text: string, names: Names): string {
  const wanted = folded(text);
  if (wanted === '') return '';
  const exact = names.find(({ code, words }) => [code, ...words].some((word) => folded(word) === wanted));
  if (exact) return exact.code;
  const begins = names.filter(({ code, words }) => [code, ...words].some((word) => folded(word).startsWith(wanted)));
  return begins.length === 1 ? (begins[0]?.code ?? '') : '';
}

/** A size: "6", "6,35 mm", "1/4 in", '1 1/2"'. Undefined when empty, null when not understood. */
export function sizeOf(text: string): Amount | undefined | null {
  if (text === '') return undefined;
  const parts = /^([\d.,\s/]+?)\s*(mm|in|inch|")?$/i.exec(text);
  const value = parts === null ? null : mixed(parts[1] ?? '');
  if (parts === null || value === null || value <= 0) return null;
  const unit = (parts[2] ?? 'mm').toLowerCase();
  return { value, unit: unit === 'mm' ? 'mm' : 'in' };
}

function mixed(text: string): number | null {
  const fraction = /^(?:(\d+)\s+)?(\d+)\/(\d+)$/.exec(text.trim());
  if (fraction === null) return typed(text);
  const [, whole = '0', over, under] = fraction;
  return Number(under) === 0 ? null : Number(whole) + Number(over) / Number(under);
}

function folded(text: string): string {
  return text
    .normalize('NFD')
    .replace(/[\u0300-\u036f]/g, '')
    .toLowerCase()
    .replace(/[^a-z0-9%]+/g, ' ')
    .trim();
}
