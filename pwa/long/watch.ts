/** Hears the press and the word "saved" as they come, while the page still runs. */
import type { Browser } from '../engines/driver';

const pressed = 'long: pressed';
const saved = 'long: saved';

/** What was heard of one saving. */
export class Watch {
  /** Resolves when the press reached the page. */
  readonly pressed: Promise<void>;
  /** Resolves when "saved" stood on the screen. */
  readonly saved: Promise<void>;
  /** Whether "saved" stood on the screen so far. */
  wasSaved = false;

  private constructor(browser: Browser) {
    const heard = (words: string, then: () => void): Promise<void> =>
      new Promise((resolve) =>
        browser.hear((text) => {
          if (text !== words) return;
          then();
          resolve();
        }),
      );
    this.pressed = heard(pressed, () => undefined);
    this.saved = heard(saved, () => void (this.wasSaved = true));
  }

  /** Begins to watch the page as it stands; nothing may be called saved on it yet. */
  static async begin(browser: Browser): Promise<Watch> {
    const watch = new Watch(browser);
    if (!(await browser.run(tell, pressed, saved))) throw new Error('something is called saved already');
    return watch;
  }
}

/** In the page: says when something is pressed, and when the bar above the main act says that something is saved. */
function tell(pressed: string, saved: string): boolean {
  const says = (): boolean => /saved/i.test(document.querySelector('footer [role=status]')?.textContent ?? '');
  if (says()) return false;
  addEventListener('click', () => console.log(pressed), { capture: true, once: true });
  const observer = new MutationObserver(() => {
    if (!says()) return;
    observer.disconnect();
    console.log(saved);
  });
  observer.observe(document.body, { subtree: true, childList: true, characterData: true });
  return true;
}
