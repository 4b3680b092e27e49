/**
 * Several tabs, one log: only one worker can hold the files. It serves the
 * others over a channel of this origin, so that every tab works; when it goes,
 * one of them takes the files. The exclusive file handle is the guard, the lock
 * only tells that the holder went.
 */
import type { Message, Request } from './protocol';

/** What goes over the channel. `from` and `to` are tabs. */
export type Word =
  | { word: 'who' }
  | { word: 'here' }
  | { word: 'ask'; from: string; request: Request }
  | { word: 'told'; to: string; message: Message }
  | { word: 'news'; message: Message };

/** A BroadcastChannel, as it is needed here. */
export interface Channel {
  postMessage(word: Word): void;
  onmessage: ((event: MessageEvent<Word>) => void) | null;
}

/** The holder's side: answers who asks, and tells news to all. */
export class Holder {
  constructor(
    private readonly channel: Channel,
    private readonly answer: (request: Request, reply: (message: Message) => void) => void,
  ) {
    channel.onmessage = ({ data }) => this.hear(data);
    channel.postMessage({ word: 'here' });
  }

  news(message: Message): void {
    this.channel.postMessage({ word: 'news', message });
  }

  private hear(word: Word): void {
    if (word.word === 'who') this.channel.postMessage({ word: 'here' });
    if (word.word !== 'ask') return;
    const to = word.from;
    this.answer(word.request, (message) => this.channel.postMessage({ word: 'told', to, message }));
  }
}

/** The side of a tab without the files: asks the holder. */
export class Guest {
  private waiting = new Set<number>();
  private heard = 0;

  constructor(
    private readonly channel: Channel,
    private readonly me: string,
    private readonly say: (message: Message) => void,
    private readonly now: () => number = () => performance.now(),
  ) {
    channel.onmessage = ({ data }) => this.hear(data);
  }

  ask(request: Request): void {
    if (this.waiting.size === 0) this.heard = this.now();
    this.waiting.add(request.id);
    this.channel.postMessage({ word: 'ask', from: this.me, request });
  }

  /** How long the holder has owed an answer without a word, ms. */
  silence(): number {
    return this.waiting.size === 0 ? 0 : this.now() - this.heard;
  }

  private hear(word: Word): void {
    if (word.word === 'news') this.pass(word.message);
    if (word.word === 'told' && word.to === this.me) {
      if ('id' in word.message) this.waiting.delete(word.message.id);
      this.pass(word.message);
    }
  }

  private pass(message: Message): void {
    this.heard = this.now();
    this.say(message);
  }
}

/** Asks whether another tab holds the files; resolves once one says so, never otherwise. */
export function holderThere(channel: Channel): Promise<void> {
  return new Promise((found) => {
    channel.onmessage = ({ data }) => {
      if (data.word === 'here') found();
    };
    channel.postMessage({ word: 'who' });
  });
}
