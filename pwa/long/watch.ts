/** Hears the press and the word "saved" as they come, while the page still runs. */
import type { Browser } from '../engines/driver';

const pressed = 'long: pressed';
const saved = 'long: saved';

const patience = 60_000; // ms until something that was to be heard is missed

/** What was heard of one saving. */
export class Watch {
  /** Whether "saved" stood on the screen so far. */
  wasSaved = false;
  private readonly press: Promise<void>;
  private readonly save: Promise<void>;

  private constructor(private readonly browser: Browser) {
    const heard = (words: string): Promise<void> =>
      new Promise((resolve) => browser.hear((text) => text === words && resolve()));
    this.press = heard(pressed);
    browser.hear((text) => void (this.wasSaved ||= text === saved));
    this.save = heard(saved);
  }

  /** Begins to watch the page as it stands; nothing may be called saved on it yet. */
  static async begin(browser: Browser): Promise<Watch> {
    const watch = new Watch(browser);
    if (!(await browser.run(tell, pressed, saved))) throw new Error('something is called saved already');
    return watch;
  }

  /** Resolves when the press reached the page. */
  pressed(): Promise<void> {
    return this.inTime(this.press, 'pressed');
  }

  /** Resolves when "saved" stood on the screen. */
  saved(): Promise<void> {
    return this.inTime(this.save, 'saved');
  }

  /** Says what the page says when it takes too long. */
  private async inTime(heard: Promise<void>, what: string): Promise<void> {
    let timer: ReturnType<typeof setTimeout> | undefined;
    const late = new Promise<true>((resolve) => void (timer = setTimeout(() => resolve(true), patience)));
    const missed = await Promise.race([heard, late]);
    clearTimeout(timer);
    if (missed) throw new Error(`never ${what}:\n${await this.browser.run(() => document.body.innerText)}`);
  }
}

/** In the page: says when something is pressed, and when the bar above the main act says that something is saved. */
function tell(pressed: string, saved: string): boolean {
  const says = (): boolean => /saved/i.test(document.querySelector('footer [role=status]')?.textContent ?? '');
  if (says()) return false;
  addEventListener('pointerdown', () => console.log(pressed), { capture: true, once: true });
  const observer = new MutationObserver(() => {
    if (!says()) return;
    observer.disconnect();
    console.log(saved);
  });
  observer.observe(document.body, { subtree: true, childList: true, characterData: true });
  return true;
}
