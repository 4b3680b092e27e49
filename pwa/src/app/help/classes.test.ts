import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { classes, sensitivity } from './classes';

const go = readFileSync(new URL('../../../../calc/class/class.go', import.meta.url), 'utf8');

test('the help tells the classes that the numbers use, with the same ends', () => {
  const codes = Object.fromEntries([...go.matchAll(/^\t(\w+) Class = "([a-z-]+)"/gm)].map(([, name, code]) => [name, code]));
  const spans = [...go.matchAll(/\{Class: (\w+), Low: ([\d.]+), Top: ([\d.]+)(, Open: true)?\}/g)];
  expect(spans.length).toBeGreaterThan(3);
  expect(classes).toEqual(spans.map(([, name = '', low, top, open]) => ({ code: codes[name], low, top, open: open !== undefined })));
});

test('the end of the bubble test is that of ASTM E515-11(2018) 1.1: 1e-5 std cm³/s, told a second and a minute', () => {
  expect(Number(sensitivity.rate)).toBeCloseTo(1e-5, 12);
  expect(Number(sensitivity.minute)).toBeCloseTo(60 * Number(sensitivity.rate), 12);
});
