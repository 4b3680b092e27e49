/**
 * Writes .br and .gz beside everything that is worth it, once the build is
 * done, so that the server never compresses. The slow part is remembered by
 * content under node_modules/.cache.
 */
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { brotliCompressSync, constants, gzipSync } from 'node:zlib';
import type { Plugin } from 'vite';

const worth = /\.(js|css|html|svg|wasm|webmanifest)$/;
const least = 512; // bytes: below it the headers weigh more
const memory = 'node_modules/.cache/squeeze';

const ways: Record<string, (data: Buffer) => Buffer> = {
  br: (data) =>
    brotliCompressSync(data, {
      params: { [constants.BROTLI_PARAM_QUALITY]: 11, [constants.BROTLI_PARAM_SIZE_HINT]: data.length },
    }),
  gz: (data) => gzipSync(data, { level: 9 }),
};

export function squeeze(): Plugin {
  let out = 'dist';
  return {
    name: 'squeeze',
    apply: 'build',
    enforce: 'post',
    configResolved(config) {
      out = config.build.outDir;
    },
    closeBundle: {
      order: 'post',
      sequential: true,
      handler() {
        if (this.environment.name !== 'client') return;
        for (const file of readdirSync(out, { recursive: true, encoding: 'utf8' })) {
          const path = join(out, file);
          if (worth.test(file) && statSync(path).size >= least) press(path);
        }
      },
    },
  };
}

function press(path: string): void {
  const data = readFileSync(path);
  const name = createHash('sha256').update(data).digest('hex');
  mkdirSync(memory, { recursive: true });
  for (const [ending, way] of Object.entries(ways)) {
    const kept = join(memory, `${name}.${ending}`);
    if (!existsSync(kept)) writeFileSync(kept, way(data));
    writeFileSync(`${path}.${ending}`, readFileSync(kept));
  }
}
