import { expect, test } from 'vitest';
import { valueWords } from './value';

test('names and notes are a person’s own words; none is said to be none', () => {
  expect(valueWords('name', 'Nut 3.1')).toBe('Nut 3.1');
  expect(valueWords('note', '')).toBe('left empty');
});

test('codes, amounts and places are put in words', () => {
  expect(valueWords('kind', 'hose-barb')).toBe('hose barb');
  expect(valueWords('circuit', 'test')).toBe('test side');
  expect(valueWords('tube', { value: 6.35, unit: 'mm' })).toBe('6.35\u00a0mm');
  expect(valueWords('order', 2.5)).toBe('place 2.5');
  expect(valueWords('result', 'not-reached')).toBe('not reached');
  expect(valueWords('gas', 'nitrogen')).toBe('nitrogen');
  expect(valueWords('site', 'unheard-of')).toBe('a site that is not one of yours');
});

test('an observation is told as it was entered', () => {
  const seen = { medium: 'film', how: 'window', count: 6, seconds: 20, size: { as: 'diameter', diameter: { value: 3, unit: 'mm' } } };
  expect(valueWords('observation', seen)).toContain('6');
  expect(valueWords('observation', seen)).toContain('3 mm');
});

test('a program is told in one line', () => {
  const program = {
    name: 'Air 2 bar', gas: 'air', pressure: { value: 2, unit: 'bar' }, volume: { value: 50, unit: 'cm3' }, fill: 3, stabilise: 4, test: 5, vent: 1,
    limitRate: { value: 1.2, unit: 'std cm3/min' }, showUnit: 'std cm3/min', background: false, allowance: 0.1,
  };
  const words = valueWords('program', program);
  for (const part of ['Air 2 bar', '2\u00a0bar', '50\u00a0cm³', '1.2 std cm³/min']) expect(words).toContain(part);
});

test('a field that this version does not know is shown as it stands', () => {
  expect(valueWords('colour', 'red')).toBe('red');
  expect(valueWords('colour', { r: 1 })).toBe('{"r":1}');
});
