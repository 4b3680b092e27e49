import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';

const css = readFileSync(new URL('./theme.css', import.meta.url), 'utf8');

/** The colours of a theme; the light one is the base of all. */
function colours(theme: string): Record<string, string> {
  const block = new RegExp(`:root${theme === 'light' ? '' : `\\[data-theme='${theme}'\\]`} \\{([^}]*)\\}`).exec(css)?.[1] ?? '';
  return Object.fromEntries([...block.matchAll(/--([\w-]+): (#[0-9a-f]{6});/g)].map(([, name, value]) => [name, value]));
}

/** Relative luminance and contrast as WCAG 2.2 defines them. */
function contrast(one: string, other: string): number {
  const [high = 0, low = 0] = [luminance(one), luminance(other)].sort((a, b) => b - a);
  return (high + 0.05) / (low + 0.05);
}

function luminance(colour: string): number {
  const [r = 0, g = 0, b = 0] = [1, 3, 5].map((i) => {
    const part = parseInt(colour.slice(i, i + 2), 16) / 255;
    return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

/** What is written or drawn in a theme, and on what. */
const pairs: [string, string][] = [
  ...['ink', 'soft', 'press', 'wrong', 'tight', 'partly', 'leaks', 'gross', 'missed'].map((ink): [string, string] => [ink, 'paper']),
  ['on-press', 'press'], ['paper', 'ink'], ['ink', 'lit'], ['press', 'lit'], ['ink', 'caution'], ['ink', 'lift'], ['ink', 'press-lift'],
];

const least = { light: 4.5, dark: 4.5, outdoor: 7 };

for (const [theme, ratio] of Object.entries(least)) {
  test(`in the ${theme} theme nothing is under ${ratio}:1`, () => {
    const of = colours(theme);
    const faint = pairs.filter(([ink, ground]) => !(contrast(of[ink] ?? '', of[ground] ?? '') >= ratio));
    expect(faint).toEqual([]);
  });
}

test('contrast is that of the definition', () => {
  expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 6);
  expect(contrast('#777777', '#ffffff')).toBeCloseTo(4.478, 3); // the known grey just under 4.5
});
