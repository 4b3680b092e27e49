/** What a technician does on the screens, the same in every engine. */
import type { Hand } from './hand';

/** A joint as it stands on the screen. */
export interface Row {
  id: string;
  name: string;
}

/** Pairs this browser by an invitation and waits until all that it needs is kept here. */
export async function pair(hand: Hand, link: string): Promise<void> {
  await hand.browser.goto(link);
  await hand.see(/Pair (this device|here, in the browser)/);
  if (await hand.sees('Pair here, in the browser')) await hand.press('Pair here, in the browser');
  await hand.press('Pair this device');
  await hand.at(/^\/$/);
  await hand.see('All sent');
  await hand.see('Irrigation valve body');
  await hand.wait(() => hand.browser.run(offlineReady), () => 'the app is not kept for offline starts');
}

/** In the page: whether the service worker holds the app. */
async function offlineReady(): Promise<boolean> {
  return (await navigator.serviceWorker.getRegistration())?.active?.state === 'activated';
}

/** From the list of fixtures into a new round, conditions as last time; the path of the round. */
export async function startRound(hand: Hand, fixture: RegExp): Promise<string> {
  await hand.press(fixture);
  await hand.at(/^\/f\//);
  await hand.press('Start a round');
  await hand.press('Start the round');
  const path = await hand.at(/^\/r\/[^/]+$/);
  await hand.see(/wetted: start/);
  return path;
}

/** The joints of the group that is proposed or runs, top first; waits for one. */
export function group(hand: Hand): Promise<[Row, ...Row[]]> {
  const rows = async (): Promise<[Row, ...Row[]] | null> => {
    const [first, ...more] = await hand.browser.run(litRows);
    return first === undefined ? null : [first, ...more];
  };
  return hand.wait(rows, () => 'no joint is in a group');
}

/** In the page: the joints in the group. */
function litRows(): Row[] {
  return [...document.querySelectorAll<HTMLElement>('.row.lit')].map((row) => ({
    id: row.id.replace('row-', ''),
    name: row.querySelector<HTMLElement>('.strong')?.innerText ?? '',
  }));
}

/** How many joints of a round nobody has looked at yet, by the page of its end. */
export async function left(hand: Hand, address: string, round: string): Promise<number> {
  await hand.browser.goto(`${address}${round}/end`);
  await hand.see(/Put back what was changed|To the fixture/);
  const text = await hand.text();
  if (/One joint is not looked at yet/.test(text)) return 1;
  return Number(/(\d+) joints are not looked at yet/.exec(text)?.[1] ?? 0);
}

/** On the page of a leak: ten bubbles by the stopwatch, and one of them beside the tube; what remains is to save. */
export async function count(hand: Hand, ms: number): Promise<void> {
  await hand.press('Ten bubbles');
  await hand.press('Start the stopwatch');
  await new Promise((resolve) => setTimeout(resolve, ms));
  await hand.press('Stop at the tenth');
  await hand.press(/^(¼ of the tube|2 mm)$/);
  await hand.see(/between .* \(95 %\)/);
}

/** From the round's page to the page of a leak at that joint. */
export async function openLeak(hand: Hand, joint: Row): Promise<void> {
  await hand.press(`More for ${joint.name}`);
  await hand.press('Leaks: size it');
  await hand.at(/\/leak\//);
}
