/**
 * Takes the address of a public content network out of the code reader. The
 * app gives the reader its own wasm, so the address is never used; gone, it
 * cannot come back by a slip, and a test holds the built app free of it.
 */
import type { Plugin } from 'vite';

const named = /https:\/\/[\w.-]+\/npm\/zxing-wasm@[\d.]+\/dist\//g;

/** The source without the address; what is left of it leads to this server. */
export function withoutCdn(source: string): string {
  return source.replace(named, '/');
}

export function noCdn(): Plugin {
  return {
    name: 'no-cdn',
    transform(code, id) {
      return id.includes('barcode-detector') || id.includes('zxing-wasm') ? { code: withoutCdn(code), map: null } : null;
    },
  };
}
