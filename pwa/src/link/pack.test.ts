import { gunzipSync } from 'node:zlib';
import { afterEach, expect, test, vi } from 'vitest';
import { packed, unpacks } from './pack';

const lines = 'application/x-ndjson';
const long = new TextEncoder().encode('{"kind":"look-made","é":"<"}\n'.repeat(100));

afterEach(() => {
  vi.unstubAllGlobals();
});

test('what is packed unpacks to the same bytes, and is less', async () => {
  const body = await packed(long, lines);
  expect(new Uint8Array(gunzipSync(body ?? new Uint8Array()))).toEqual(long);
  expect(body?.length).toBeLessThan(long.length / 3);
});

test('a part of a larger buffer is packed alone', async () => {
  const body = await packed(long.subarray(29, 29 * 80), lines);
  expect(gunzipSync(body ?? new Uint8Array())).toHaveLength(29 * 79);
});

test('what is short, or no words, goes as it is', async () => {
  expect(await packed(long.subarray(0, 999), lines)).toBeNull();
  expect(await packed(long.subarray(0, 1000), 'application/json')).not.toBeNull();
  expect(await packed(long, 'application/octet-stream')).toBeNull();
});

test('a browser that cannot pack sends plain', async () => {
  vi.stubGlobal('CompressionStream', undefined);
  expect(await packed(long, lines)).toBeNull();
});

test.each([
  ['gzip', true],
  ['br, gzip', true],
  ['br', false],
  ['xgzip', false],
  ['', false],
])('an answer with Accept-Encoding %j takes gzip: %s', (value, takes) => {
  expect(unpacks(new Response('', { headers: { 'Accept-Encoding': value } }))).toBe(takes);
});

test('an answer of an earlier server says nothing', () => {
  expect(unpacks(new Response(''))).toBe(false);
});
