/** Names of joints that follow one another: 1, 2, 3 … */

/** The name after this one, as people count: its last digits go up by one, or a 2 is put behind it. */
export function after(name: string): string {
  const digits = /\d+$/.exec(name)?.[0];
  if (digits === undefined) return `${name} 2`;
  const next = String(BigInt(digits) + 1n).padStart(digits.length, '0');
  return name.slice(0, -digits.length) + next;
}

/** The first name from this one on that is not taken. */
export function free(name: string, taken: readonly string[]): string {
  const used = new Set(taken);
  let one = name;
  while (used.has(one)) one = after(one);
  return one;
}

/** The first name of joints of a kind, by the kind's word: "Hose barb 1". */
export function firstOf(word: string): string {
  return `${word.charAt(0).toLocaleUpperCase()}${word.slice(1)} 1`;
}
