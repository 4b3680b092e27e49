import { expect, test } from 'vitest';
import { base64, gather, type Source } from './unsent';

const lines = ['{"v":1,"note":"a<b"}', '{"v":1,"note":"ß"}', '{"v":1}'];
const pictures: Record<string, Uint8Array> = { p1: Uint8Array.of(0xff, 0xd8, 0xff), p2: new Uint8Array(100_000).fill(7) };

/** A phone that hands its lines out two at a time. */
const source: Source = {
  lines: async (after) => ({
    lines: lines.slice(after, after + 2).map((line) => `${line}\n`).join(''),
    next: Math.min(after + 2, lines.length),
    more: after + 2 < lines.length,
  }),
  pictures: async () => [...Object.keys(pictures), 'gone'].map((hash) => ({ hash })),
  picture: async (hash) => pictures[hash] ?? null,
};

test('the file says what it is, and holds every line as it was and every picture', async () => {
  const { file, events, pictures: count } = await gather(source, '2026-03-01');
  expect([file.name, file.type, events, count]).toEqual(['jointwalk-unsent-2026-03-01.ndjson', 'application/x-ndjson', 3, 2]);
  const [head, ...rest] = (await file.text()).trimEnd().split('\n');
  expect(head).toBe('{"jointwalk":"unsent","v":1}');
  expect(rest.slice(0, 3)).toEqual(lines);
  const held = rest.slice(3).map((line) => JSON.parse(line) as { picture: string; size: number; data: string });
  expect(held.map(({ picture, size }) => [picture, size])).toEqual([['p1', 3], ['p2', 100_000]]);
  for (const { picture, data } of held) expect(new Uint8Array(Buffer.from(data, 'base64'))).toEqual(pictures[picture]);
});

test('it tells how far it is, and stops when it is told to', async () => {
  const stopping = new AbortController();
  const told: number[] = [];
  const whole = await gather(source, 'd', { stop: stopping.signal, told: (n) => told.push(n) });
  expect([whole.events + whole.pictures, told]).toEqual([5, [2, 3, 4, 5]]);
  const early = gather(source, 'd', { stop: stopping.signal, told: (n) => n === 3 && stopping.abort() });
  await expect(early).rejects.toMatchObject({ code: 'stopped' });
});

test('with nothing unsent there is the first line alone', async () => {
  const none: Source = { ...source, lines: async () => ({ lines: '', next: 0, more: false }), pictures: async () => [] };
  expect(await (await gather(none, 'd')).file.text()).toBe('{"jointwalk":"unsent","v":1}\n');
});

test.each([0, 1, 2, 3, 3 * 8192 - 1, 3 * 8192, 3 * 8192 + 1])('%d bytes in base64 are those of the runtime', (length) => {
  const bytes = Uint8Array.from({ length }, (_, n) => (n * 31) % 256);
  expect(base64(bytes)).toBe(Buffer.from(bytes).toString('base64'));
});
