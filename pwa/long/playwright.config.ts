import { defineConfig } from '@playwright/test';

/** Real processes, one after the other; the runner opens no browser of its own here. */
export default defineConfig({
  testDir: '.',
  testMatch: '*.spec.ts',
  workers: 1,
  reporter: [['list']],
});
