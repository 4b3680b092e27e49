/** A person at a page, in any engine: looks for words, presses what bears them, types. */
import { type Browser, Crashed } from './driver';

const patience = 60_000; // ms that a person waits for words to appear
const step = 40; // ms between looks

/** Longer than what wants to be held asks for, in ms. */
export const held = 800;

export class Hand {
  constructor(readonly browser: Browser) {}

  /** Presses the first thing that bears these words and is not covered, once it is there. */
  async press(words: string | RegExp): Promise<void> {
    const [x, y] = await this.place(words);
    await this.browser.tap(x, y);
  }

  /** Holds what wants to be held. */
  async hold(words: string): Promise<void> {
    const [x, y] = await this.place(words);
    await this.browser.tap(x, y, held);
  }

  /** Where what bears these words can be pressed, once it is there and stays where it is: a page that opens still moves. */
  async place(words: string | RegExp): Promise<[number, number]> {
    const { source, flags } = pattern(words);
    let before: [number, number] | null = null;
    const still = async (): Promise<[number, number] | null> => {
      const last = before;
      before = await this.browser.run(findPlace, source, flags);
      return before && last && before[0] === last[0] && before[1] === last[1] ? before : null;
    };
    return this.wait(still, () => `nothing to press says ${words}`);
  }

  /** Types into the field with that label. */
  async fill(label: string, text: string): Promise<void> {
    await this.wait(() => this.browser.run(focusField, label), () => `no field is called ${label}`);
    await this.browser.type(text);
  }

  /** Waits until the page shows these words. */
  async see(words: string | RegExp): Promise<void> {
    await this.wait(() => this.sees(words), () => `the page does not say ${words}`);
  }

  /** Whether the page shows these words now. */
  async sees(words: string | RegExp): Promise<boolean> {
    const text = (await this.text()).replace(/\s+/g, ' ');
    return typeof words === 'string' ? text.includes(words) : words.test(text);
  }

  text(): Promise<string> {
    return this.browser.run(() => document.body?.innerText ?? '');
  }

  /** Waits until the address is such a one; its path. */
  async at(path: RegExp): Promise<string> {
    const here = async (): Promise<string> => new URL(await this.browser.address()).pathname;
    await this.wait(async () => path.test(await here()), () => `never came to ${path}`);
    return here();
  }

  /** Waits for a truthy answer, and says what the page says when none comes. A page that is just changing counts as none. */
  async wait<T>(ask: () => Promise<T | null | false | undefined>, otherwise: () => string): Promise<T> {
    const end = Date.now() + patience;
    for (let cause: unknown; ; ) {
      try {
        const answer = await ask();
        if (answer) return answer;
      } catch (thrown) {
        if (thrown instanceof Crashed) throw thrown;
        cause = thrown;
      }
      if (Date.now() > end) throw new Error(`${otherwise()}\n${await this.text().catch(String)}`, { cause });
      await new Promise((resolve) => setTimeout(resolve, step));
    }
  }
}

function pattern(words: string | RegExp): { source: string; flags: string } {
  if (words instanceof RegExp) return words;
  return { source: `^${words.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')}$`, flags: '' };
}

/** In the page: the middle of what bears the words and lies open, brought into view. */
function findPlace(source: string, flags: string): [number, number] | null {
  const wanted = new RegExp(source, flags);
  const named = (one: HTMLElement): string => (one.getAttribute('aria-label') ?? one.innerText).replace(/\s+/g, ' ').trim();
  for (const one of document.querySelectorAll<HTMLElement>('button:not(:disabled), a[href], summary, label')) {
    if (!wanted.test(named(one))) continue;
    one.scrollIntoView({ block: 'center', behavior: 'instant' });
    const { left, top, width, height } = one.getBoundingClientRect();
    const place: [number, number] = [left + width / 2, top + height / 2];
    if (width > 0 && one.contains(document.elementFromPoint(...place))) return place;
  }
  return null;
}

/** In the page: puts the focus into the field with that label. */
function focusField(label: string): boolean {
  const fields = [...document.querySelectorAll<HTMLInputElement>('input, textarea')];
  const field = fields.find((one) => [...(one.labels ?? [])].some((words) => words.innerText.trim().startsWith(label)) || one.ariaLabel === label);
  field?.focus();
  return field !== undefined;
}
