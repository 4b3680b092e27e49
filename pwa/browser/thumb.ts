/** A thumb on a phone's screen, as the browser's own touches, and what it cost: it taps, it holds, and counts. */
import type { CDPSession, Locator, Page } from '@playwright/test';

/** Longer than a button wants to be held, in ms. */
const held = 800;

/** What a thumb takes at least from press to press, in ms: sooner a press would be the ghost of the one before. */
const reach = 100;

/** Taps and holds by touch, and counts them. */
export class Thumb {
  taps = 0;
  private glass: CDPSession | undefined;

  /** Lets it hold. Before the network is cut: what is let in later tells the page that it is back. */
  async ready(page: Page): Promise<CDPSession> {
    return (this.glass ??= await page.context().newCDPSession(page));
  }

  async tap(target: Locator): Promise<void> {
    await this.reach(target);
    await target.tap();
    this.taps++;
  }

  /** Stays on a target until it is done. */
  async hold(target: Locator): Promise<void> {
    await this.reach(target);
    const box = await target.boundingBox();
    if (box === null) throw new Error('nothing to hold');
    const page = target.page();
    const touch = await this.ready(page);
    const at = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
    await touch.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: [at] });
    await page.waitForTimeout(held);
    await touch.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
    this.taps++;
  }

  private async reach(target: Locator): Promise<void> {
    await target.evaluate(bring);
    await target.page().waitForTimeout(reach);
  }
}

/** Scrolls as a thumb does, where the bars above and below cover what it wants. Runs in the page. */
function bring(target: Element): void {
  const { x, y, width, height } = target.getBoundingClientRect();
  const top = document.elementFromPoint(x + width / 2, y + height / 2);
  if (!target.contains(top)) target.scrollIntoView({ block: 'center' });
}

/** A button by its words: whole ones, or those that a pattern finds. */
export const button = (page: Page, name: string | RegExp): Locator => page.getByRole('button', { name, exact: typeof name === 'string' });
