import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { type Figures, page, writeTable } from './table';

const taps: Figures = {
  version: 'One 1.0', date: 'then', seed: 7, machine: { cores: 2, load: 1.5 }, between: 31, keptUnseen: 12, after: 33, serverDown: 20,
  savedAfterMs: 18, acts: { leak: 21, group: 43 }, looks: { kept: 99, missing: ['a'], doubled: ['b', 'c'], strange: [] },
};

/** The cells of the line that begins with those words. */
function cells(text: string, words: string): string[] {
  const found = text.split('\n').find((line) => line.startsWith(`| ${words} |`)) ?? '';
  return found.split(' | ').slice(1).map((cell) => cell.replace(' |', ''));
}

test('what was not run is said so, and no figure stands in for it', () => {
  const text = page((name) => (name === 'taps-chromium' ? taps : undefined));
  expect(cells(text, 'kills between tap and "saved"')).toEqual(['31', 'not run']);
  expect(cells(text, 'kills under load')).toEqual(['not run']);
  expect(text).toContain('capture, kill, sync\n\nnot run');
});

test('losses are counted where there are any', () => {
  const text = page((name) => (name.startsWith('taps') ? taps : undefined));
  expect(cells(text, 'of these missing at the server in the end')).toEqual(['1', '1']);
  expect(cells(text, 'doubled')[0]).toBe('2');
  expect(cells(text, 'kinds of saving')[0]).toBe('leak 21, group 43');
  expect(cells(text, 'cores, load of the machine')[0]).toBe('2, 1.5');
});

test('a step that could not run bears its reason', () => {
  const steps = [{ step: 'a kill', ran: true }, { step: 'a sync', ran: true }];
  const engines = [
    { engine: 'one', version: '1', by: 'x', steps },
    { engine: 'two', version: '2', by: 'y', steps: [{ step: 'a kill', ran: false, why: 'no files' }, { step: 'in memory', ran: true }] },
  ];
  const text = page((name) => (name === 'engines' ? { date: 'then', engines } : undefined));
  expect(cells(text, 'a kill')).toEqual(['held', 'could not (1)']);
  expect(cells(text, 'a sync')).toEqual(['held', 'not of this engine']);
  expect(cells(text, 'in memory')).toEqual(['not of this engine', 'held']);
  expect(text).toContain('1. Could not: no files.');
});

test('the page is made from the files in a folder', () => {
  const folder = mkdtempSync(join(tmpdir(), 'jointwalk-table-'));
  writeFileSync(join(folder, 'taps-firefox.json'), JSON.stringify(taps));
  writeTable(folder);
  const text = readFileSync(join(folder, 'FIGURES.md'), 'utf8');
  rmSync(folder, { recursive: true });
  expect(cells(text, 'kills after "saved"')).toEqual(['not run', '33']);
});
