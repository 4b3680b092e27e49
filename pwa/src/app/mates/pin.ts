/**
 * A PIN on a phone that people share. It hides and does not protect: whoever has the phone unlocked and the tools reads
 * what is on it. It keeps people from recording in another's name by mistake.
 */
import { argon2id, argon2Verify } from 'hash-wasm';

/** The seal of a PIN, and the wrong tries since it was last right. */
export interface Sealed {
  seal: string;
  wrong: number;
  /** ms of the epoch before which none is taken. */
  until: number;
}

/** Argon2id with 19 MiB, 2 passes, 1 lane: the least of the OWASP Password Storage Cheat Sheet. */
const cost = { memorySize: 19_456, iterations: 2, parallelism: 1, hashLength: 32 };

/** How many wrong tries are free; after that each waits twice as long as the one before. Common practice, no source. */
const free = 5;
const firstWait = 30_000;
const longestWait = 600_000;

/** Whether a text can be a PIN: 4 to 8 digits. */
export const isPin = (text: string) => /^\d{4,8}$/.test(text);

/** Seals a PIN. */
export async function seal(pin: string): Promise<Sealed> {
  const salt = crypto.getRandomValues(new Uint8Array(16));
  return { seal: await argon2id({ password: pin, salt, ...cost, outputType: 'encoded' }), wrong: 0, until: 0 };
}

/** Tries a PIN. `opens` says whether it was right; `kept` is what to keep then. While it waits nothing is tried. */
export async function tried(sealed: Sealed, pin: string, now: number): Promise<{ opens: boolean; kept: Sealed }> {
  if (now < sealed.until) return { opens: false, kept: sealed };
  if (await argon2Verify({ password: pin, hash: sealed.seal })) return { opens: true, kept: { ...sealed, wrong: 0, until: 0 } };
  const wrong = sealed.wrong + 1;
  const wait = wrong < free ? 0 : Math.min(longestWait, firstWait * 2 ** (wrong - free));
  return { opens: false, kept: { ...sealed, wrong, until: wait === 0 ? 0 : now + wait } };
}
