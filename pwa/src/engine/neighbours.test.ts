import { beforeEach, expect, test } from 'vitest';
import { type Channel, Guest, Holder, holderThere, type Word } from './neighbours';
import type { Message, Request } from './protocol';

/** All ends of one channel; what one says all others hear, at once. */
let ends: Channel[];

function end(): Channel {
  const made: Channel = {
    onmessage: null,
    postMessage: (word: Word) => {
      for (const other of ends) if (other !== made) other.onmessage?.({ data: word } as MessageEvent<Word>);
    },
  };
  ends.push(made);
  return made;
}

let clock: number;
const heard: Record<string, Message[]> = {};

beforeEach(() => {
  ends = [];
  clock = 0;
  heard.a = [];
  heard.b = [];
});

const guest = (name: string) => new Guest(end(), name, (message) => heard[name]?.push(message), () => clock);
const ask = (id: number): Request => ({ id, name: 'ask', args: { question: 'home', args: {} } });

test('a guest is answered by the holder, each its own', () => {
  new Holder(end(), (request, reply) => reply({ id: request.id, answer: `to ${request.id}` }));
  const a = guest('a');
  const b = guest('b');
  a.ask(ask(1));
  b.ask(ask(2));
  expect(heard.a).toEqual([{ id: 1, answer: 'to 1' }]);
  expect(heard.b).toEqual([{ id: 2, answer: 'to 2' }]);
});

test('news go to all guests', () => {
  const holder = new Holder(end(), () => undefined);
  guest('a');
  guest('b');
  holder.news({ changed: true });
  expect(heard).toEqual({ a: [{ changed: true }], b: [{ changed: true }] });
});

test('a tab finds the holder whether it was there before or comes later', async () => {
  const early = holderThere(end());
  new Holder(end(), () => undefined);
  await early;
  await holderThere(end());
});

test('where nobody holds the files nobody is found', async () => {
  const found = holderThere(end()).then(() => 'found');
  guest('a');
  expect(await Promise.race([found, Promise.resolve('nobody')])).toBe('nobody');
});

test('the silence of a holder that owes an answer grows; any word ends it', () => {
  const holder = new Holder(end(), () => undefined);
  const a = guest('a');
  clock = 5000;
  expect(a.silence()).toBe(0);
  a.ask(ask(1));
  clock = 9000;
  expect(a.silence()).toBe(4000);
  holder.news({ changed: true });
  expect(a.silence()).toBe(0);
});
