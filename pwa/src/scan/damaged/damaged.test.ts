/**
 * What still reads of a damaged label. `make labels` writes the table with its seed; without, the
 * promises are tried anew on fewer pictures, and held against the table.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { BarcodeDetector, setZXingModuleOverrides } from 'barcode-detector/ponyfill';
import { expect, test, vi } from 'vitest';
import { type Damage, picture, seeded, type Modules } from './picture';
import { rows } from './table';

const home = join(dirname(fileURLToPath(import.meta.url)), '../../../..');
const table = join(home, 'testdata/labels/table.md');
const printedAt = 'Q';

interface Label {
  text: string;
  Q: Modules;
  H: Modules;
}
const labels = JSON.parse(readFileSync(join(home, 'testdata/labels/levels.json'), 'utf8')) as Label[];

const seed = 20260301;
const each = 30;
const few = 6;

/** What a browser has of that name, as much as the reader uses. */
class ImageData {
  readonly colorSpace = 'srgb';
  readonly data: Uint8ClampedArray;
  constructor(readonly width: number, readonly height: number, grey: Float64Array) {
    this.data = new Uint8ClampedArray(4 * grey.length);
    grey.forEach((one, i) => this.data.set([255 * one, 255 * one, 255 * one, 255], 4 * i));
  }
}

vi.stubGlobal('ImageData', ImageData);
vi.stubGlobal('DOMRectReadOnly', class {});
setZXingModuleOverrides({ wasmBinary: readFileSync(join(home, 'pwa/node_modules/zxing-wasm/dist/reader/zxing_reader.wasm')).buffer as ArrayBuffer });
const detector = new BarcodeDetector({ formats: ['qr_code'] });

/** The share of n pictures of labels at a level that is read, each with what it holds. A wrong text would be a scandal: it throws. */
async function read(level: 'Q' | 'H', damage: Damage, n: number): Promise<number> {
  const random = seeded(seed);
  let good = 0;
  for (let i = 0; i < n; i++) {
    const label = labels[i % labels.length]!;
    const { side, grey } = picture(label[level], damage, random);
    const found = await detector.detect(new ImageData(side, side, grey) as unknown as globalThis.ImageData);
    if (found.some(({ rawValue }) => rawValue !== label.text)) throw new Error(`read ${found[0]?.rawValue} for ${label.text}`);
    good += found.length > 0 ? 1 : 0;
  }
  return good / n;
}

const inTable = (words: string, q: string, h: string, promised: string) => `| ${words} | ${q} | ${h} | ${promised} |`;
const shown = (share: number) => `${Math.round(100 * share)} %`;

if (process.env['LABELS']) {
  test('writes the table', { timeout: 900_000 }, async () => {
    const lines = [inTable('damage', 'level Q', 'level H', 'promised'), '| --- | ---: | ---: | ---: |'];
    for (const { words, damage, promised } of rows) {
      const [q, h] = [await read('Q', damage, each), await read('H', damage, each)];
      lines.push(inTable(words, shown(q), shown(h), promised === undefined ? '' : `≥ ${shown(promised)}`));
    }
    const before = readFileSync(table, 'utf8').split('| damage')[0];
    writeFileSync(table, `${before}${lines.join('\n')}\n`);
  });
}

/** The lines of the table that was kept: words → shares at Q and H, and the promise. */
function kept(): Map<string, { Q: number; H: number; promised: string }> {
  const cells = readFileSync(table, 'utf8').split('\n').filter((line) => line.startsWith('| ')).map((line) => line.split('|').map((cell) => cell.trim()));
  return new Map(cells.slice(2).map(([, words = '', q, h, promised = '']) => [words, { Q: Number.parseInt(q ?? ''), H: Number.parseInt(h ?? ''), promised }]));
}

test('the table has every row and holds what it promises', () => {
  const lines = kept();
  expect([...lines.keys()]).toEqual(rows.map(({ words }) => words));
  for (const { words, promised } of rows) {
    expect(lines.get(words)?.promised, words).toBe(promised === undefined ? '' : `≥ ${shown(promised)}`);
    if (promised !== undefined) expect(lines.get(words)?.[printedAt], words).toBeGreaterThanOrEqual(100 * promised);
  }
  expect(readFileSync(table, 'utf8')).toContain(`seed ${seed}, ${each} pictures`);
});

test.each(rows.filter(({ promised }) => promised !== undefined))('$words: read as promised', { timeout: 60_000 }, async ({ damage, promised = 0 }) => {
  expect(await read(printedAt, damage, few)).toBeGreaterThanOrEqual(promised - 1 / few);
});
