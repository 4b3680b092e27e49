import { expect, test } from 'vitest';
import { asInput, complete, describe, unreadable } from './conditions';

const last = {
  gas: 'air', pressure: { value: 200, unit: 'kPa' }, ambient: { value: 23, unit: 'degC' }, solution: 'film', wetted: 'after',
  setup: 'port B capped',
};

test('the last conditions come back unchanged', () => {
  expect(complete(asInput(last))).toEqual(last);
});

test('pressure and temperature must be numbers; a comma is a decimal', () => {
  const input = asInput(last);
  expect(complete({ ...input, pressure: { text: '', unit: 'kPa' } })).toBeNull();
  expect(complete({ ...input, pressure: { text: 'two', unit: 'kPa' } })).toBeNull();
  expect(complete({ ...input, pressure: { text: '-0,8', unit: 'bar' } })?.pressure).toEqual({ value: -0.8, unit: 'bar' });
});

test('a barometer may be left out, but not be unreadable', () => {
  const input = asInput(last);
  expect(complete(input)).not.toHaveProperty('barometer');
  expect(complete({ ...input, barometer: { text: '98,0', unit: 'kPa' } })?.barometer).toEqual({ value: 98, unit: 'kPa' });
  expect(complete({ ...input, barometer: { text: '98..', unit: 'kPa' } })).toBeNull();
  expect([unreadable({ text: '98..', unit: 'kPa' }), unreadable({ text: ' ', unit: 'kPa' })]).toEqual([true, false]);
});

test('one line says them all', () => {
  expect(describe(last)).toBe(
    'air · 200\u00a0kPa gauge · 23\u00a0°C · bubble solution · wetted after pressurising · port B capped',
  );
});
