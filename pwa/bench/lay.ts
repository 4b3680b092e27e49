/** Puts the files of a phone where the engine's worker finds them. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from '@playwright/test';

/** Lays the files of a folder into a page's origin; no worker of the app may hold them meanwhile. */
export async function lay(page: Page, folder: string): Promise<void> {
  for (const name of readdirSync(folder).filter((name) => name.startsWith('pool-'))) {
    await page.evaluate(
      async ([name, text]) => {
        const root = await navigator.storage.getDirectory();
        const file = await (await root.getDirectoryHandle('jointwalk', { create: true })).getFileHandle(name, { create: true });
        const writing = await file.createWritable();
        await writing.write(text);
        await writing.close();
      },
      [name, readFileSync(join(folder, name), 'utf8')] as const,
    );
  }
}
