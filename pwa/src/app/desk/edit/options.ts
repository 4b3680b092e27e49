/** Vocabularies as choices, in the words of the language. */
import { said } from '../../../words';
import { en } from '../../../words/en';
import type { Names } from './paste';

/** A vocabulary of the records as options for a list. */
export function options(family: string, codes: readonly string[]): { value: string; words: string }[] {
  return codes.map((value) => ({ value, words: said(family, value) }));
}

/** The words that mean each code, in the language spoken and in English: for reading what was pasted. */
export function names(family: string, codes: readonly string[]): Names {
  return codes.map((code) => ({ code, words: [said(family, code), english(`${family}.${code}`)] }));
}

function english(key: string): string {
  const word: unknown = key in en ? en[key as keyof typeof en] : '';
  return typeof word === 'string' ? word : '';
}
