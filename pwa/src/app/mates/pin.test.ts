import { argon2id } from 'hash-wasm';
import { expect, test } from 'vitest';
import { isPin, seal, tried } from './pin';

// The first vector for Argon2id of the reference implementation's own suite (phc-winner-argon2, src/test.c): t 2, m 2^16 KiB, p 1.
test('the library computes Argon2id as the reference implementation does', async () => {
  const known = { password: 'password', salt: 'somesalt', memorySize: 65_536, iterations: 2, parallelism: 1, hashLength: 32 };
  expect(await argon2id({ ...known, outputType: 'hex' })).toBe('09316115d5cf24ed5a15a31a3ba326e5cf32edc24702987c02b6566f61913cf7');
});

test('a PIN is sealed by Argon2id at the cost that is promised, salted each time', async () => {
  const [one, other] = [await seal('0420'), await seal('0420')];
  expect(one.seal).toMatch(/^\$argon2id\$v=19\$m=19456,t=2,p=1\$/);
  expect(one.seal).not.toBe(other.seal);
  expect(one.seal).not.toContain('0420');
});

test('the right one opens, a wrong one does not, and leading zeros count', async () => {
  const sealed = await seal('0420');
  expect((await tried(sealed, '0420', 0)).opens).toBe(true);
  for (const wrong of ['420', '0421', '00420']) expect((await tried(sealed, wrong, 0)).opens).toBe(false);
});

test('after five wrong tries it waits, twice as long each time, and a right one forgets them', async () => {
  let kept = await seal('1234');
  let now = 1_000_000;
  for (let n = 1; n < 5; n++) {
    kept = (await tried(kept, '0000', now)).kept;
    expect(kept).toMatchObject({ wrong: n, until: 0 });
  }
  for (const wait of [30_000, 60_000, 120_000, 240_000, 480_000, 600_000, 600_000]) {
    kept = (await tried(kept, '0000', now)).kept;
    expect(kept.until - now).toBe(wait);
    expect((await tried(kept, '1234', kept.until - 1)).opens).toBe(false);
    now = kept.until;
  }
  expect(await tried(kept, '1234', now)).toMatchObject({ opens: true, kept: { wrong: 0, until: 0 } });
});

test('a PIN is 4 to 8 digits', () => {
  expect(['1234', '00000000'].every(isPin)).toBe(true);
  expect(['123', '123456789', '12a4', '', ' 1234'].some(isPin)).toBe(false);
});
