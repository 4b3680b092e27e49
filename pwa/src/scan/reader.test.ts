import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { withoutCdn } from '../../build/noCdn';

const address = /https?:\/\/[^\s'"`]+zxing-wasm/;
const home = join(dirname(fileURLToPath(import.meta.url)), '../..');

function json<T>(path: string): T {
  return JSON.parse(readFileSync(join(home, path), 'utf8')) as T;
}

test('there is exactly one copy of the decoder, the one that its user asks for', () => {
  const { packages } = json<{ packages: Record<string, { version: string }> }>('package-lock.json');
  const copies = Object.keys(packages).filter((path) => path.endsWith('node_modules/zxing-wasm'));
  expect(copies).toEqual(['node_modules/zxing-wasm']);
  const asked = json<{ dependencies: Record<string, string> }>('node_modules/barcode-detector/package.json').dependencies;
  expect(packages['node_modules/zxing-wasm']?.version).toBe(asked['zxing-wasm']);
  expect(json<{ dependencies: Record<string, string> }>('package.json').dependencies['zxing-wasm']).toBe(asked['zxing-wasm']);
  expect(existsSync(join(home, 'node_modules/barcode-detector/node_modules'))).toBe(false);
});

test('the glue that runs was made for the wasm that is served', async () => {
  const { ZXING_WASM_SHA256 } = await import('barcode-detector/ponyfill');
  const wasm = readFileSync(join(home, 'node_modules/zxing-wasm/dist/reader/zxing_reader.wasm'));
  const digest = await crypto.subtle.digest('SHA-256', wasm);
  expect(Buffer.from(digest).toString('hex')).toBe(ZXING_WASM_SHA256);
});

test('no public content network is named in what is built', () => {
  const glue = readFileSync(join(home, 'node_modules/barcode-detector/dist/es/zxing-exported.js'), 'utf8');
  expect(glue).toMatch(address); // else the plug-in has nothing to do: take it out
  expect(withoutCdn(glue)).not.toMatch(address);
  expect(readFileSync(join(home, 'vite.config.ts'), 'utf8')).toContain('noCdn()');
});

test('the reader is told to take its wasm from here', () => {
  const reader = readFileSync(join(home, 'src/scan/reader.ts'), 'utf8');
  expect(reader).toMatch(/from 'zxing-wasm\/reader\/zxing_reader\.wasm\?url'/);
  expect(reader).toMatch(/setZXingModuleOverrides\(\{ locateFile/);
  expect(reader).not.toMatch(/https?:/);
});
