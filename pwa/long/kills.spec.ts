/** The phone killed again and again, in each engine that keeps records; counts come as TAP_KILLS and START_KILLS. */
import { expect, test } from '@playwright/test';
import type { Engine } from '../engines/driver';
import { keep, wanted } from '../engines/outcome';
import { chromium, firefox } from '../engines/puppet';
import { Device } from './device';
import { chances } from './random';
import { startKills } from './starts';
import { TapKills } from './taps';

/** Of each: as many between tap and "saved", and as many after. */
const tapKills = wanted('TAP_KILLS', 30);
const starts = wanted('START_KILLS', 60);
const seed = wanted('SEED', Date.now() % 2 ** 31);
const minute = 60_000;

for (const engine of [chromium, firefox]) {
  test(`${engine.name} killed between tap and "saved", and after`, async () => {
    test.setTimeout(5 * minute + tapKills * minute);
    const taps = await on(engine, (device) => new TapKills(device, chances(seed)).run(tapKills));
    console.log(engine.name, JSON.stringify(taps));
    expect(taps.looks).toMatchObject({ missing: [], doubled: [], strange: [] });
    keep(`taps-${engine.name}`, { seed, version: engine.version(), ...taps });
  });

  test(`${engine.name} killed within a second of each start, under continuous writing`, async () => {
    test.setTimeout(10 * minute + starts * minute);
    const found = await on(engine, (device) => startKills(device, chances(seed), starts));
    console.log(engine.name, JSON.stringify(found));
    expect(found.events).toMatchObject({ missing: [], doubled: [] });
    keep(`starts-${engine.name}`, { seed, version: engine.version(), ...found });
  });
}

async function on<T>(engine: Engine, run: (device: Device) => Promise<T>): Promise<T> {
  const device = await Device.paired(engine);
  try {
    return await run(device);
  } finally {
    await device.end();
  }
}
