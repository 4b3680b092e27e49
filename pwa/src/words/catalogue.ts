/**
 * What a catalogue of words is made of. A word is a text with {places} for its
 * parameters, or one text for each plural form, chosen by the parameter `n`.
 */
export type Word = string | PluralWord;

/** The plural forms that English and Spanish need; `n` chooses between them. */
export interface PluralWord {
  one: string;
  other: string;
}

/** A catalogue: every code with its word. */
export type Catalogue<Code extends string = string> = Record<Code, Word>;

/** What may stand in a place: a number is written the language's way, a text as it is. */
export type Args = Readonly<Record<string, string | number>>;
