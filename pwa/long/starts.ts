/**
 * The browser killed within a second of each start, while events are written as fast as they go. The second runs from the
 * first acknowledged event of that start; every sixth kill comes within a second of loading the page instead, while the
 * engine still opens its files.
 */
import { startRound } from '../engines/acts';
import { Acknowledged, type Reckoning } from './account';
import type { Device } from './device';

const most = 1000; // ms from the start to the kill
const openingEvery = 6;

/** What was counted. */
export interface Starts {
  kills: number;
  /** Of those: before anything was acknowledged. */
  opening: number;
  serverDown: number;
  events: Omit<Reckoning, 'strange'>;
  /** Kept and sent, though no acknowledgement was heard. */
  keptUnheard: number;
  /** From loading the page to the first acknowledged event, ms, the middle and the most. */
  firstMs: [median: number, most: number];
}

interface Home {
  sites: { id: string; fixtures: { id: string; openRound?: string }[] }[];
}

/** Where the written looks belong. */
interface Place {
  site: string;
  fixture: string;
  round: string;
  joints: string[];
}

/** Kills as often as wanted, then sends all and holds it against what was acknowledged. */
export async function startKills(device: Device, chance: () => number, wanted: number): Promise<Starts> {
  const place = await begunRound(device);
  const told = new Acknowledged();
  const before = new Set((await device.observer.looks()).map(({ id }) => id));
  const first: number[] = [];
  let serverDown = 0;
  for (let n = 0; n < wanted; n++) {
    if (n % 10 === 0) console.log(`${device.engine.name}: ${n} starts, ${told.count} events acknowledged`);
    if (n % 4 === 3) await device.serving(chance() < 0.5);
    if (!device.serves) serverDown++;
    const took = await oneStart(device, place, told, chance() * most, n % openingEvery === openingEvery - 1);
    if (took !== null) first.push(took);
  }
  await device.open();
  await device.sendAll();
  const arrived = (await device.observer.looks()).map(({ id }) => id).filter((id) => !before.has(id));
  const events = told.reckon(arrived);
  first.sort((a, b) => a - b);
  const keptUnheard = new Set(arrived).size - (events.kept - events.missing.length);
  const firstMs: [number, number] = [first[Math.floor(first.length / 2)] ?? 0, first.at(-1) ?? 0];
  return { kills: wanted, opening: wanted - first.length, serverDown, events, keptUnheard, firstMs };
}

/** A start, writing from the first moment on, and a kill; the ms until the first acknowledgement, null when there was none. */
async function oneStart(device: Device, place: Place, told: Acknowledged, ms: number, opening: boolean): Promise<number | null> {
  await device.open();
  const shoot = device.browser.aim();
  const heard: [id: string, seq: number][] = [];
  let took: number | null = null;
  let began = 0;
  const acknowledged = new Promise<void>((resolve, reject) =>
    device.browser.hear((text) => {
      const [word, id = '', seq] = text.split(' ');
      if (word === 'refused') reject(new Error(text));
      if (word !== 'kept') return;
      heard.push([id, Number(seq)]);
      took ??= Math.round(performance.now() - began);
      resolve();
    }),
  );
  await device.goto('/icon.svg');
  began = performance.now();
  const writing = device.browser.run(writeOn, place);
  if (opening) writing.catch(() => undefined); // the kill may cut it off
  else await writing.then(() => acknowledged);
  await new Promise((resolve) => setTimeout(resolve, ms));
  await device.killed(shoot);
  for (const [id, seq] of heard) told.take(id, seq);
  return took;
}

/** A round that runs, begun on the screens of this device. */
async function begunRound(device: Device): Promise<Place> {
  await device.open();
  await device.goto('/');
  const round = (await startRound(device.hand, /^Irrigation valve body/)).split('/')[2] ?? '';
  await device.hand.see('All sent');
  await device.close();
  const { sites } = await device.observer.ask<Home>('home', {});
  for (const { id: site, fixtures } of sites) {
    const fixture = fixtures.find(({ openRound }) => openRound === round)?.id;
    if (fixture === undefined) continue;
    const { joints } = await device.observer.ask<{ joints: { id: string }[] }>('fixture', { id: fixture });
    return { site, fixture, round, joints: joints.map(({ id }) => id) };
  }
  throw new Error('the round did not arrive');
}

/** In a page without the app: starts the app's own worker and writes looks without end, one after the other. */
async function writeOn({ site, fixture, round, joints }: Place): Promise<void> {
  const kept = await (await fetch('/sw.js')).text(); // it lists all files of the app
  const name = /worker-[\w-]+\.js/.exec(kept)?.[0] ?? '';
  const worker = new Worker(`/assets/${name}`, { type: 'module' });
  const newId = (): string => {
    const hex = Array.from(crypto.getRandomValues(new Uint8Array(16)), (part) => part.toString(16).padStart(2, '0')).join('');
    return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-7${hex.slice(13, 16)}-8${hex.slice(17, 20)}-${hex.slice(20)}`;
  };
  const write = (n: number): void => {
    const body = { round, joint: joints[n % joints.length], result: 'none', seconds: 1, stayed: true, back: true };
    worker.postMessage({ id: n, name: 'write', args: { drafts: [{ kind: 'look-made', site, fixture, body }], ids: [newId()], zone: 'UTC' } });
  };
  worker.onmessage = ({ data }) => {
    if (!('id' in data)) return;
    if (data.fault) return console.log(`refused ${data.fault.code} ${data.fault.field}`);
    console.log(`kept ${data.answer[0].id} ${data.answer[0].seq}`);
    write(data.id + 1);
  };
  write(1);
}
