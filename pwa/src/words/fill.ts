/** Words with places, filled. */
import type { Args, Word } from './catalogue';
import { formOf } from './form';
import { language } from './language';
import { written } from './number';

/** Places that hold a person's own words: a joint called 7.1 keeps its dot. */
const names = new Set(['name', 'names', 'joint', 'fixture', 'place', 'site', 'code', 'note', 'person', 'spare', 'run']);

/** A word with its places filled: numbers in the language's form, a person's own words as they are. */
export function filled(word: Word, args: Args = {}): string {
  const text = typeof word === 'string' ? word : word[form(args.n)];
  return text.replace(/\{(\w+)\}/g, (place, name: string) => {
    const value = args[name];
    if (value === undefined) return place;
    return names.has(name) ? String(value) : written(value, language.value);
  });
}

function form(n: string | number | undefined): 'one' | 'other' {
  return formOf('plural', (language) => new Intl.PluralRules(language)).select(Number(n)) === 'one' ? 'one' : 'other';
}
