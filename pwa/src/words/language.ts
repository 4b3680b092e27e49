/**
 * The language of this device: chosen by the person, else the browser's, else
 * English. The choice is kept on the device; losing it costs nothing.
 */
import { signal } from '@preact/signals';
import type { Catalogue } from './catalogue';
import { type Code, en } from './en';

/** The languages that have a catalogue. */
export const languages = ['en', 'es', 'de'] as const;
export type Language = (typeof languages)[number];

const key = 'jointwalk-language';

/** The language that the screens speak now. */
export const language = signal<Language>('en');

/** Where the catalogues of the others are; each is fetched when it is spoken. */
const catalogues = {
  es: async () => (await import('./es')).es,
  de: async () => (await import('./de')).de,
} satisfies Record<Exclude<Language, 'en'>, () => Promise<Catalogue<Code>>>;

let catalogue: Catalogue<Code> = en;

/** The catalogue of the language that is spoken now. */
export function spoken(): Catalogue<Code> {
  return language.value === 'en' ? en : catalogue;
}

/** The language to begin with. */
export function preferred(): Language {
  const kept = remembered();
  const wished = kept === null ? navigator.languages : [kept];
  for (const tag of wished) {
    const found = languages.find((one) => tag.toLowerCase().startsWith(one));
    if (found !== undefined) return found;
  }
  return 'en';
}

/** Speak a language from now on and keep the choice on this device, first, so that leaving the page at once does not lose it. */
export async function choose(next: Language): Promise<void> {
  try {
    localStorage.setItem(key, next);
  } catch {
    // A browser that keeps nothing still speaks the language until it is closed.
  }
  await speak(next);
}

/** Speak a language without keeping the choice; sets the page's `lang`. */
export async function speak(next: Language): Promise<void> {
  if (next !== 'en') catalogue = await catalogues[next]();
  language.value = next;
  document.documentElement.lang = next;
}

function remembered(): string | null {
  try {
    return localStorage.getItem(key);
  } catch {
    return null;
  }
}
