/**
 * Keeps a keyboard's place on the page, and a screen reader's. What is pressed often goes by that very press, and the browser
 * drops the focus with it; and what has the focus may lie under what stays in sight. Fingers need none of this.
 */

const fields = ['button', 'input', 'select', 'textarea'].map((kind) => `${kind}:not(:disabled)`);

/** What the tab key stops at. */
const stops = [...fields, 'a[href]', 'summary'].join();

/** What stays in sight while the page scrolls. */
const covers = '.top, .act, .leak-figure';

/** Whether a finger or a mouse pressed last, or nothing did yet: a screen reader's press has no size. */
let finger = true;

/** What has the focus, or had it when it went. */
let last: HTMLElement | null = null;

/** The stops before it. */
let before: Element[] = [];

/** The page and the act that it stands in: once it is gone they are not to be asked. */
let page: Element | null = null;
let act: HTMLElement | null = null;

/** Begins to keep the place. Once, by main. */
export function keepPlace(): void {
  addEventListener('pointerdown', ({ width, height }) => by(width > 0 || height > 0), true);
  addEventListener('keydown', pressed, true);
  addEventListener('focusin', ({ target }) => target instanceof HTMLElement && took(target));
  new MutationObserver(keep).observe(document, { subtree: true, childList: true, attributes: true, attributeFilter: ['disabled'] });
}

/** Whether a key or a screen reader pressed last: then a screen may move the focus to where things go on. */
export function byKeys(): boolean {
  return !finger;
}

/** Styles are told too: a heading that takes the focus shows it to keys alone. */
function by(fingers: boolean): void {
  finger = fingers;
  document.documentElement.toggleAttribute('data-keys', !fingers);
}

/** A key that is held presses once: by its repeats it would press what has come to stand there. */
function pressed(event: KeyboardEvent): void {
  by(false);
  const button = event.target instanceof Element && event.target.closest('button, a') !== null;
  if (event.repeat && event.key === 'Enter' && button) event.preventDefault();
}

function took(one: HTMLElement): void {
  last = one;
  page = one.closest('.page');
  act = one.closest('.act');
  const all = stopsIn(document);
  before = all.slice(0, Math.max(0, all.indexOf(one)));
  if (!finger) requestAnimationFrame(() => document.activeElement === one && intoSight(one));
}

/** Where the focus was lost, puts it where it would have gone on; a new page's heading takes it by itself. */
function keep(): void {
  if (finger || last === null || !lost(last)) return;
  last = null;
  if (page?.isConnected !== false) onward()?.focus();
}

function lost(one: HTMLElement): boolean {
  const now = document.activeElement;
  return (!one.isConnected || one.matches(':disabled')) && (now === null || now === document.body || now === one);
}

/**
 * What comes next on the page. Of an act it is the whole: what stands there now may save, and nobody has read it yet; the
 * next press of the tab key goes into it.
 */
function onward(): HTMLElement | undefined {
  if (act?.isConnected && stopsIn(act).length > 0) return asWhole(act);
  const open = [...document.querySelectorAll('dialog[open]')].at(-1);
  const all = stopsIn(open ?? document);
  const next = all[all.findLastIndex((one) => before.includes(one)) + 1] ?? all.at(-1);
  const within = next?.closest<HTMLElement>('.act');
  return within ? asWhole(within) : next;
}

function asWhole(one: HTMLElement): HTMLElement {
  one.tabIndex = -1;
  return one;
}

function stopsIn(where: ParentNode): HTMLElement[] {
  return [...where.querySelectorAll<HTMLElement>(stops)].filter((one) => one.getClientRects().length > 0);
}

/** Scrolls what has the focus out from under what stays in sight, and an act that reaches below the screen up. */
function intoSight(one: HTMLElement): void {
  if (one.closest('dialog, .top') !== null) return;
  const box = one.getBoundingClientRect();
  if (act !== null) {
    if (box.bottom > innerHeight) scrollTo(0, document.documentElement.scrollHeight);
    return;
  }
  const [head, foot] = band(one, box);
  if (box.bottom > foot) scrollBy(0, Math.min(box.bottom - foot, box.top - head) + gap);
  else if (box.top < head) scrollBy(0, box.top - head - gap);
}

/** Room for the ring around the focus, in CSS pixels. */
const gap = 8;

/** From where to where an element can be seen between what stays in sight above and below. */
function band(one: HTMLElement, box: DOMRect): [head: number, foot: number] {
  const over = [...document.querySelectorAll(covers)]
    .filter((cover) => !cover.contains(one) && getComputedStyle(cover).position === 'sticky')
    .map((cover) => cover.getBoundingClientRect())
    .filter(({ left, right, height }) => height > 0 && left < box.right && right > box.left);
  const isHead = ({ top, bottom }: DOMRect) => top + bottom < innerHeight;
  const head = Math.max(0, ...over.filter(isHead).map(({ bottom }) => bottom));
  const foot = Math.min(innerHeight, ...over.filter((cover) => !isHead(cover)).map(({ top }) => top));
  return [head, foot];
}
