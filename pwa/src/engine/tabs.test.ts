import { beforeEach, expect, test } from 'vitest';
import { type Channel, Tabs, type Word } from './tabs';

/** All ends of one channel; what one says all others hear, at once. */
let ends: Channel[];

/** Who holds the files: the guard that a browser's handle is. */
let holder: Tab | null;

/** A tab in miniature. */
class Tab {
  state: 'trying' | 'holds' | 'button' = 'trying';
  frozen = false;
  readonly tabs: Tabs;

  constructor() {
    const end: Channel = {
      onmessage: null,
      postMessage: (word: Word) => {
        for (const other of ends) if (other !== end) other.onmessage?.({ data: word } as MessageEvent<Word>);
      },
    };
    ends.push(end);
    this.tabs = new Tabs(end, {
      holds: () => this.state === 'holds',
      letGo: () => {
        if (holder === this) holder = null;
        this.state = 'button';
      },
      leave: () => {
        this.state = 'button';
      },
    });
    const hear = end.onmessage;
    end.onmessage = (event) => this.frozen || hear?.call(end, event);
  }

  /** Opens the files where nobody has them, as a worker does after each try. */
  open(): void {
    if (holder === null) {
      holder = this;
      this.state = 'holds';
      this.tabs.opened();
    }
  }

  start(): this {
    this.state = 'trying';
    this.tabs.ask();
    if (this.state === 'trying') this.open();
    return this;
  }

  press(): void {
    this.state = 'trying';
    this.tabs.take();
    this.open();
  }
}

beforeEach(() => {
  ends = [];
  holder = null;
});

test('the first tab holds the files, the second shows its button at once', () => {
  const first = new Tab().start();
  const second = new Tab().start();
  expect([first.state, second.state]).toEqual(['holds', 'button']);
});

test('the button takes the files over, there and back', () => {
  const first = new Tab().start();
  const second = new Tab().start();
  second.press();
  expect([first.state, second.state]).toEqual(['button', 'holds']);
  first.press();
  expect([first.state, second.state]).toEqual(['holds', 'button']);
});

test('of three tabs only the holder lets go', () => {
  const [first, second, third] = [new Tab().start(), new Tab().start(), new Tab().start()];
  third.press();
  expect([first.state, second.state, third.state]).toEqual(['button', 'button', 'holds']);
});

test('two tabs opened together: the one that gets the files tells the other', () => {
  const [first, second] = [new Tab(), new Tab()];
  first.tabs.ask();
  second.tabs.ask();
  expect([first.state, second.state]).toEqual(['trying', 'trying']);
  second.open();
  expect([first.state, second.state]).toEqual(['button', 'holds']);
});

test('a holder that does not answer keeps the files, and the other goes on trying until its time is up', () => {
  const first = new Tab().start();
  const second = new Tab().start();
  first.frozen = true;
  second.press();
  expect(holder).toBe(first);
  expect(second.state).toBe('trying');
  expect(second.tabs.taking).toBe(true);
});

test('a tab that was asked and says that it is still there does not end the taking', () => {
  const first = new Tab().start();
  const second = new Tab().start();
  first.frozen = true;
  second.press();
  first.frozen = false;
  first.tabs.opened();
  expect(second.state).toBe('trying');
});

test('a tab that comes back finds who holds the files now, or nobody', () => {
  const first = new Tab().start();
  const second = new Tab().start();
  second.press();
  first.start();
  expect(first.state).toBe('button');
  holder = null;
  ends.pop();
  first.start();
  expect(first.state).toBe('holds');
});
