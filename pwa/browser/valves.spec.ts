/**
 * Rows of published tables, typed into the screens of a round: bubbles under water beside the volume flow that the
 * table prints. Values, tolerances and sources stand in testdata/published/bubbles.json (ISO 5208:2015, rates B to G;
 * ANSI/FCI 70-2-2006, class VI).
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, type Page, test } from '@playwright/test';
import { Device, online } from './browser';
import { Installation } from './installation';
import { erase, firstPhone, openLeak, press, startRound } from './phone';

interface Value {
  value: number;
  unit: string;
}

interface Row {
  id: string;
  inputs: { bubble_rate: Value; bubble_diameter?: Value; bubble_volume?: Value };
  expected: Value;
  relTol: number;
}

const published = join(import.meta.dirname, '..', '..', 'testdata', 'published', 'bubbles.json');
const { cases } = JSON.parse(readFileSync(published, 'utf8')) as { cases: Row[] };
const rows = cases.filter(({ id }) => /^bub-iso5208-[A-G]$|^bub-fci702-[\d.]+in$/.test(id));
const fastest = 3; // bubbles a second that an eye can count: common practice, no source

test('the tables of valve tests stand on the screen within their own tolerance', async () => {
  expect(rows.length).toBe(9);
  const server = await Installation.start();
  try {
    const phone = await Device.open(online);
    await firstPhone(phone, server);
    const { page } = phone;
    await startRound(page, 'Irrigation valve body', async () => {
      await page.getByRole('button', { name: 'Change' }).click();
      await page.getByRole('group', { name: 'Seen with' }).getByText('under water').click();
    });
    await openLeak(page);
    let before = 0;
    for (const row of rows) {
      const across = acrossInMm(row);
      if (across !== before) await size(page, across);
      before = across;
      await holds(page, row);
    }
  } finally {
    await Device.endAll();
    await server.end();
  }
});

/** One row, its size being there: its bubbles go in, its flow comes out. */
async function holds(page: Page, row: Row): Promise<void> {
  const perSecond = row.inputs.bubble_rate.value / (row.inputs.bubble_rate.unit === '1/min' ? 60 : 1);
  if (perSecond > fastest) await stopwatch(page, Math.round(perSecond * 1000), 1000);
  else await tenBubbles(page, 10 / perSecond);
  const unit = row.expected.unit === 'mL/min' ? 60 / 1000 : 1; // of one mm³/s
  await expect
    .poll(async () => Math.abs(((await flow(page)) * unit) / row.expected.value - 1), { message: `${row.id} on the screen` })
    .toBeLessThanOrEqual(row.relTol);
  await expect(page.getByText('Faster than an eye can count')).toBeVisible({ visible: perSecond > fastest });
  await page.getByRole('button', { name: 'Count again' }).click();
}

/** The sphere of a row in millimetres, as many digits as go in. */
function acrossInMm({ inputs: { bubble_diameter: across, bubble_volume: volume } }: Row): number {
  if (across?.unit === 'mm') return across.value;
  if (volume?.unit === 'mL') return Math.cbrt((6 * volume.value * 1000) / Math.PI);
  throw new Error('a row without a bubble');
}

async function size(page: Page, mm: number): Promise<void> {
  await page.getByRole('button', { name: /^Size in millimetres/ }).click();
  await erase(page);
  await press(page, mm);
}

/** The time for ten bubbles: the intervals are exact, and over a long time the hand on the clock adds little. */
async function tenBubbles(page: Page, seconds: number): Promise<void> {
  await page.getByText('Ten bubbles', { exact: true }).click();
  await page.getByRole('button', { name: 'Type the time instead' }).click();
  await press(page, seconds);
}

async function stopwatch(page: Page, bubbles: number, seconds: number): Promise<void> {
  await page.getByText('Stopwatch', { exact: true }).click();
  await page.getByRole('button', { name: 'Type the time instead' }).click();
  await press(page, seconds);
  await page.getByRole('button', { name: /^Bubbles/ }).click();
  await press(page, bubbles);
}

/** The volume flow in mm³/s as the screen says it; NaN while it says none. */
async function flow(page: Page): Promise<number> {
  const words = page.getByText('of gas around you');
  if (!(await words.isVisible())) return Number.NaN;
  return Number(/^([\d.]+) mm³\/s/.exec(await words.innerText())?.[1]);
}
