import { defineConfig } from '@playwright/test';

/** One browser, Debian's; two cores: tests one after the other, each with a server of its own. */
export default defineConfig({
  testDir: 'browser',
  testMatch: '*.spec.ts',
  workers: 1,
  timeout: 90_000,
  expect: { timeout: 10_000 },
  reporter: [['list']],
  use: { trace: 'off' },
});
