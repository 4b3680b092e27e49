import { defineConfig } from '@playwright/test';

/** One browser, Debian's; two cores: two tests at a time, each with a browser and a server of its own. */
export default defineConfig({
  testDir: 'browser',
  testMatch: '*.spec.ts',
  workers: 2,
  timeout: 90_000,
  expect: { timeout: 10_000 },
  reporter: [['list']],
  use: { trace: 'off' },
});
