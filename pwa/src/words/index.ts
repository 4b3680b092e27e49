/**
 * The words of the app: `t` for codes that the screens know, `said` for codes
 * that come from the engine. Numbers take the language's decimal sign.
 */
import type { Args } from './catalogue';
import { type Code, en } from './en';
import { filled } from './fill';
import { formOf } from './form';
import { language, spoken } from './language';
import { room, written } from './number';

export type { Args } from './catalogue';
export type { Code } from './en';
export { choose, type Language, language, languages, preferred, speak } from './language';
export { lengthText, typedLength } from './inches';
export { typed } from './number';

/** The words of a code in the language spoken now, its {places} filled. */
export function t(code: Code, args?: Args): string {
  return filled(spoken()[code], args);
}

/**
 * The words of a code from the engine, e.g. said('kind', 'hose-barb') for the
 * catalogue's "kind.hose-barb". A code that this version does not know is shown
 * as it is: an older app must still say something.
 */
export function said(family: string, code: string, args?: Args): string {
  const key = `${family}.${code}`;
  return key in en ? t(key as Code, args) : code;
}

/** Whether the catalogue has words for a family's code. */
export function known(family: string, code: string): boolean {
  return `${family}.${code}` in en;
}

/** A number in the language's form. */
export function num(value: string | number): string {
  return written(value, language.value);
}

/** Bytes as room in the language: "12 MB". */
export function roomOf(bytes: number): string {
  return room(bytes, language.value);
}

/** "a", "a and b", "a, b and c" in the language. */
export function listed(names: readonly string[]): string {
  return formOf('list', (language) => new Intl.ListFormat(language, { type: 'conjunction' })).format(names);
}
