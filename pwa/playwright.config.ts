import { defineConfig } from '@playwright/test';

/** One browser, Debian's; two cores: two tests at a time, of one file too, each with browsers and a server of its own. */
export default defineConfig({
  testDir: 'browser',
  testMatch: '*.spec.ts',
  workers: 2,
  fullyParallel: true,
  timeout: 90_000,
  expect: { timeout: 10_000 },
  reporter: [['list']],
  use: { trace: 'off' },
});
