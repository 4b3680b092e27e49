import { defineConfig } from '@playwright/test';

/** Measurements in a browser, one after the other; nothing in them depends on a time. */
export default defineConfig({
  testDir: '.',
  testMatch: '*.bench.ts',
  workers: 1,
  timeout: 300_000,
  reporter: [['line']],
});
