import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { lengthText, typedLength } from './inches';

const cases = JSON.parse(readFileSync('../testdata/inches.json', 'utf8')) as { text: string; value: number | null }[];

test('inches are read as the engine reads them', () => {
  expect(cases.length).toBeGreaterThan(10);
  for (const { text, value } of cases) expect([text, typedLength(text, 'in')]).toEqual([text, value]);
});

test('only inches have fractions', () => {
  expect(typedLength('3/16', 'mm')).toBeNull();
  expect(typedLength('2,5', 'mm')).toBe(2.5);
});

test('whole 64ths are said as fractions, and read again as they were', () => {
  expect([0.1875, 0.25, 1.5, 0.015625, 2, 0.19].map((value) => lengthText(value, 'in'))).toEqual([
    '3/16', '1/4', '1 1/2', '1/64', '2', '0.19',
  ]);
  expect(lengthText(0.25, 'mm')).toBe('0.25');
  for (let n = 1; n < 200; n++) expect(typedLength(lengthText(n / 64, 'in'), 'in')).toBe(n / 64);
});
