import { describe, expect, it } from 'vitest';
import { groupedCode, secretIn } from './invitation';

describe('what lets a device in', () => {
  it('is the secret of a link, untouched', () => {
    expect(secretIn('https://plant.example/join#aO_l-7i')).toBe('aO_l-7i');
    expect(secretIn(' HTTPS://PLANT.EXAMPLE:8443/JOIN#K7MN2QRS ')).toBe('K7MN2QRS');
  });

  it('is the text itself when it was typed, with the usual slips mended', () => {
    expect(secretIn(' k7mn 2qrs ')).toBe('K7MN2QRS');
    expect(secretIn('ko7l-2qrs')).toBe('K0712QRS');
  });

  it('is not found in anything else', () => {
    const others = ['https://plant.example/t/K7MN2QRS9AB', 'https://elsewhere.example/', 'https://plant.example/join#', 'a word, a comma', '', 'K7M'];
    for (const text of others) expect(secretIn(text)).toBeNull();
  });

  it('is grouped in fives while it is typed', () => {
    expect(groupedCode('k7mn2q')).toBe('K7MN2-Q');
    expect(groupedCode('k7mn-2qrs-9a')).toBe('K7MN2-QRS9A');
    expect(groupedCode('')).toBe('');
  });
});
