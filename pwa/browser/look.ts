/** Pictures of screens for a person to look at: LOOKS names the folder that they go into; without it none is taken. */
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from '@playwright/test';

/** A picture of the page as it stands. */
export async function look(page: Page, name: string): Promise<void> {
  const folder = process.env.LOOKS;
  if (!folder) return;
  mkdirSync(folder, { recursive: true });
  await page.screenshot({ path: join(folder, `${name}-${page.viewportSize()?.width}.png`) });
}
