import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { de, help as german } from './de';
import { en } from './en';
import { help as english } from './en/help';
import { es } from './es';
import { help as spanish } from './es/help';
import type { Word } from './catalogue';
import { strayStrings } from './stray';

const source = join(dirname(fileURLToPath(import.meta.url)), '..');
const records = join(source, '../../sync/record/kinds.go');

/** The words of the app and, apart, those that only the help loads. */
const parts: [string, Record<string, Word>, Record<string, Word>][] = [
  ['the app in Spanish', en, es], ['the help in Spanish', english, spanish],
  ['the app in German', en, de], ['the help in German', english, german],
];

test.each(parts)('every language has the same codes: %s', (_, one, other) => {
  expect(Object.keys(other).sort()).toEqual(Object.keys(one).sort());
});

test.each(parts)('a code has the same places and plural forms in every language: %s', (_, one, translated) => {
  const differing = Object.entries(one).filter(([code, word]) => {
    const other = translated[code];
    return other === undefined || shape(word) !== shape(other);
  });
  expect(differing.map(([code]) => code)).toEqual([]);
});

test('no section overwrites a code of another', async () => {
  const sections = readdirSync(join(source, 'words/en')).map((file) => file.replace('.ts', '')).filter((name) => name !== 'help');
  const codes: string[] = [];
  for (const name of sections) {
    const section: Record<string, Record<string, Word>> = await import(`./en/${name}.ts`);
    codes.push(...Object.keys(section[name] ?? {}));
  }
  expect(codes.filter((code, i) => codes.indexOf(code) !== i)).toEqual([]);
});

test('no screen holds a string of its own', () => {
  const strays = screens(source).flatMap((path) =>
    strayStrings(readFileSync(path, 'utf8')).map((stray) => `${relative(source, path)}: ${stray}`),
  );
  expect(strays).toEqual([]);
});

test('the search for strings finds text, attributes and texts in braces', () => {
  expect(strayStrings('const a = <p>Two leaks</p>;')).toEqual(['Two leaks']);
  expect(strayStrings('const a = <p>{n} leaks<b>open</b></p>;')).toEqual(['leaks', 'open']);
  expect(strayStrings('const a = <img alt="A tube" />;')).toEqual(['A tube']);
  expect(strayStrings("const a = <Button label={'Press'}>{t('x')}</Button>;")).toEqual(['Press']);
  expect(strayStrings("const a = <p>{on ? 'On' : t('off')}</p>;")).toEqual(['On']);
  expect(strayStrings('const a = <p class="small">{t("a")} · {b}</p>;')).toEqual([]);
  expect(strayStrings('function f(a: Map<string, number>) { return a > b && c < d; }')).toEqual([]);
});

test('every code of the records has words', () => {
  const lists = vocabularies(readFileSync(records, 'utf8'));
  expect(Object.keys(lists).length).toBeGreaterThan(10);
  const missing = Object.entries(lists).flatMap(([family, codes]) =>
    codes.map((code) => `${family}.${code}`).filter((key) => !(key in en)),
  );
  expect(missing).toEqual([]);
});

test('every kind of event has words', () => {
  const go = readFileSync(records, 'utf8');
  const named = go.slice(go.indexOf('const ('), go.indexOf('// Version')).match(/"[a-z-]+"/g) ?? [];
  expect(named.length).toBeGreaterThan(14);
  expect(named.map((quoted) => `event.${quoted.slice(1, -1)}`).filter((key) => !(key in en))).toEqual([]);
});

function shape(word: Word): string {
  if (typeof word === 'string') return places(word);
  return `plural ${[...new Set(`${places(word.one)},${places(word.other)}`.split(','))].sort().join()}`;
}

function places(text: string): string {
  return [...new Set(text.match(/\{\w+\}/g) ?? [])].sort().join();
}

function screens(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) return screens(path);
    return entry.name.endsWith('.tsx') && !entry.name.includes('.test.') ? [path] : [];
  });
}

const families: Record<string, string> = {
  JointKinds: 'kind', Circuits: 'circuit', Gases: 'gas', Solutions: 'solution', Wettings: 'wetted', Whys: 'why',
  Wipes: 'wiped', Counts: 'how', Causes: 'cause', Actions: 'action', Mendings: 'when', Verdicts: 'verdict',
  PutBacks: 'putBack', Orders: 'order', Vents: 'vented', Classes: 'class',
};

/** The lists of codes in the Go source of the records, by their family of words. */
function vocabularies(go: string): Record<string, string[]> {
  const found: Record<string, string[]> = {};
  for (const [name, family] of Object.entries(families)) {
    const list = new RegExp(`\\b${name}\\s*=\\s*\\[\\]string\\{([^}]*)\\}`).exec(go);
    found[family] = (list?.[1]?.match(/"([^"]+)"/g) ?? []).map((quoted) => quoted.slice(1, -1));
    expect(found[family], name).not.toEqual([]);
  }
  return found;
}
