import { afterEach, expect, test } from 'vitest';
import { language } from './language';
import { ago, lasting } from './when';

const now = Date.parse('2026-03-04T12:00:00Z');

afterEach(() => {
  language.value = 'en';
});

test('an age is told in its largest unit, rounded down', () => {
  expect(ago('2026-03-04T11:59:40Z', now)).toBe('0 minutes ago');
  expect(ago('2026-03-04T11:01:00Z', now)).toBe('59 minutes ago');
  expect(ago('2026-03-04T09:30:00Z', now)).toBe('2 hours ago');
  expect(ago('2026-03-01T13:00:00Z', now)).toBe('2 days ago');
});

test('a clock that was set back makes no age below nothing, and no time at all stays as it is', () => {
  expect(ago('2026-03-05T00:00:00Z', now)).toBe('0 minutes ago');
  expect(ago('soon', now)).toBe('soon');
});

test('ages and stretches are told in the language spoken', () => {
  language.value = 'es';
  expect(ago('2026-03-01T13:00:00Z', now)).toBe('hace 2 días');
  expect(lasting(3 * 3_600_000)).toBe('3 horas');
});

test('a stretch is told in its largest unit', () => {
  expect(lasting(400)).toBe('0 seconds');
  expect(lasting(59_000)).toBe('59 seconds');
  expect(lasting(60_000)).toBe('1 minute');
  expect(lasting(10 * 86_400_000)).toBe('10 days');
});
