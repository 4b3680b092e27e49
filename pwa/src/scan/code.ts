/**
 * How a code looks while it is typed. Whether it is a good one is for the engine
 * to say: only the shape is ours.
 */

/** The characters of codes that people read aloud and type: no I, L, O, U. */
const alphabet = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';

/** How many characters a tag's code has, its check character with it. */
export const tagLength = 11;

/** The characters of a code in what was typed: upper case, I and L for 1, O for 0. */
export function plain(text: string): string {
  const mended = text.toUpperCase().replace(/[IL]/g, '1').replace(/O/g, '0');
  return [...mended].filter((one) => alphabet.includes(one)).join('');
}

/** A tag's code as its label writes it: ABCDE-FGHJK-M, as far as it has come. */
export function grouped(text: string): string {
  const code = plain(text).slice(0, tagLength);
  return [code.slice(0, 5), code.slice(5, 10), code.slice(10)].filter((part) => part !== '').join('-');
}

/** Whether as many characters were typed as a tag's code has. */
export function whole(text: string): boolean {
  return plain(text).length === tagLength;
}
