/** The language's own forms of dates, numbers and lists: each is made once, as making one takes longer than using it a hundred times. */
import { language } from './language';

const made = new Map<string, unknown>();

/** The form of this name in the language spoken now. A name stands for one way to make it. */
export function formOf<Form>(name: string, make: (language: string) => Form): Form {
  const key = `${language.value} ${name}`;
  if (!made.has(key)) made.set(key, make(language.value));
  return made.get(key) as Form;
}
