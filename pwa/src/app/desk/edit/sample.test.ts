import { describe, expect, it } from 'vitest';
import { vocabulary } from '../../../engine/types';
import type { Catalogue } from '../../../words/catalogue';
import { en } from '../../../words/en';
import { es } from '../../../words/es';
import { type Names, parse } from './paste';

/** The words of a language for a vocabulary, as the form offers them. */
function names(words: Catalogue, family: string, codes: readonly string[]): Names {
  return codes.map((code) => ({ code, words: [String(words[`${family}.${code}`])] }));
}

describe('the line that shows how to paste', () => {
  it.each([['English', en], ['Spanish', es]])('is understood in %s', (_, words: Catalogue) => {
    const kinds = names(words, 'kind', vocabulary.jointKinds);
    const circuits = names(words, 'circuit', vocabulary.circuits);
    const [line] = parse(String(words['paste.sample']), kinds, circuits);
    expect(line).toMatchObject({ kind: 'compression', circuit: 'test', tube: { value: 6, unit: 'mm' }, misread: [] });
  });
});
