/** The words of the help pages, loaded with those pages: the first screen needs none of them. */
import type { Args, Catalogue } from './catalogue';
import type { help as english } from './en/help';
import { filled } from './fill';
import { type Language, language } from './language';

/** A code of the help pages. */
export type HelpCode = keyof typeof english;

/** Says the words of a code of the help pages. */
export type Say = (code: HelpCode, args?: Args) => string;

const sections: Record<Language, () => Promise<{ help: Catalogue<HelpCode> }>> = {
  en: () => import('./en/help'),
  es: () => import('./es/help'),
  de: () => import('./de'),
};

/** What says the help's words in the language spoken now. */
export async function helpWords(): Promise<Say> {
  const { help } = await sections[language.value]();
  return (code, args) => filled(help[code], args);
}
