/** What every page keeps to in every engine: nothing wider than the window, nothing pressed that is too small. */
import type { Browser } from './driver';

/** What is wrong with the page as it stands, in words; none when all is well. */
export async function layoutFaults(browser: Browser, where: string): Promise<string[]> {
  return (await browser.run(measure)).map((fault) => `${where}: ${fault}`);
}

/** In the page: the window's width kept, and 48 px for all that is pressed, links within a text aside. */
function measure(): string[] {
  const faults: string[] = [];
  const over = document.documentElement.scrollWidth - innerWidth;
  if (over > 0) faults.push(`${over} px wider than the window`);
  for (const one of document.querySelectorAll<HTMLElement>('button, summary, a[href]')) {
    const { width, height } = one.getBoundingClientRect();
    const inText = one.tagName === 'A' && one.closest('p') !== null;
    if (width > 0 && !inText && (width < 47.5 || height < 47.5)) {
      faults.push(`${one.innerText || one.ariaLabel} is ${Math.round(width)} × ${Math.round(height)} px`);
    }
  }
  return faults;
}
