import { execFileSync } from 'node:child_process';
import preact from '@preact/preset-vite';
import { defineConfig } from 'vitest/config';
import { VitePWA } from 'vite-plugin-pwa';
import { icons } from './build/icons.ts';
import { noCdn } from './build/noCdn.ts';
import { oneCopy } from './build/oneCopy.ts';
import { squeeze } from './build/squeeze.ts';

/** What the server answers itself: never the app's page. */
const served = [/^\/api\//, /^\/healthz$/, /^\/schema/, /^\/trust/];

/** The revision that the app is built from; "unknown" outside a repository. */
function revision(): string {
  try {
    return execFileSync('git', ['rev-parse', '--short=12', 'HEAD'], { encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] }).trim();
  } catch {
    return 'unknown';
  }
}

export default defineConfig({
  define: { APP_VERSION: JSON.stringify(revision()) },
  plugins: [
    oneCopy('zxing-wasm', 'barcode-detector'),
    noCdn(),
    preact(),
    icons(),
    VitePWA({
      registerType: 'prompt',
      strategies: 'generateSW',
      injectRegister: false,
      includeAssets: ['icon.svg'],
      manifest: {
        name: 'Jointwalk',
        short_name: 'Jointwalk',
        id: '/',
        start_url: '/',
        display: 'standalone',
        background_color: '#ffffff',
        theme_color: '#ffffff',
        icons: [
          { src: '/icon.svg', sizes: 'any', type: 'image/svg+xml' },
          { src: '/icon-192.png', sizes: '192x192', type: 'image/png' },
          { src: '/icon-512.png', sizes: '512x512', type: 'image/png' },
          { src: '/icon-512.png', sizes: '512x512', type: 'image/png', purpose: 'maskable' },
        ],
      },
      workbox: {
        globPatterns: ['**/*.{js,css,html,svg,png,wasm}'],
        maximumFileSizeToCacheInBytes: 16 << 20,
        navigateFallback: '/index.html',
        navigateFallbackDenylist: served,
        cleanupOutdatedCaches: true,
        sourcemap: false,
      },
    }),
    squeeze(),
  ],
  worker: { format: 'es' },
  build: { target: 'es2022', assetsInlineLimit: 0, modulePreload: { polyfill: false }, reportCompressedSize: false },
  server: {
    proxy: {
      '/api': { target: 'http://localhost:8080', changeOrigin: true, headers: { Origin: 'http://localhost:8080' } }, // it takes no other
      '/healthz': 'http://localhost:8080',
    },
  },
  test: { include: ['src/**/*.test.ts', 'src/**/*.test.tsx', 'build/**/*.test.ts', 'long/**/*.test.ts', 'bench/**/*.test.ts'] },
});
