import { readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { prepareZXingModule, writeBarcode } from 'zxing-wasm/writer';

const width = 640;
const height = 480;
const frames = 5;
const module = 10; // pixels a module of the code

/** Writes a film of a QR code as a camera would see it: y4m, a few still frames. */
export async function film(text: string, path: string): Promise<string> {
  const { data, width: size } = await matrix(text);
  const luma = Buffer.alloc(width * height, 235);
  const left = Math.floor((width - size * module) / 2);
  const top = Math.floor((height - size * module) / 2);
  for (let y = 0; y < size * module; y++) {
    for (let x = 0; x < size * module; x++) {
      const dark = data[Math.floor(y / module) * size + Math.floor(x / module)] === 0;
      luma[(top + y) * width + left + x] = dark ? 16 : 235;
    }
  }
  const frame = Buffer.concat([Buffer.from('FRAME\n'), luma, Buffer.alloc((width * height) / 2, 128)]);
  writeFileSync(path, Buffer.concat([Buffer.from(`YUV4MPEG2 W${width} H${height} F10:1 Ip A1:1 C420jpeg\n`), ...Array<Buffer>(frames).fill(frame)]));
  return path;
}

/** The code as modules, 0 for dark, by a library that the server does not use. */
async function matrix(text: string): Promise<{ data: Uint8ClampedArray; width: number }> {
  const entry = createRequire(import.meta.url).resolve('zxing-wasm/writer');
  const wasmBinary = readFileSync(join(dirname(entry), '..', '..', 'writer', 'zxing_writer.wasm')).buffer;
  await prepareZXingModule({ overrides: { wasmBinary: wasmBinary as ArrayBuffer }, fireImmediately: true });
  const { symbol, error } = await writeBarcode(text, { format: 'QRCode', ecLevel: 'Q' } as Parameters<typeof writeBarcode>[1]);
  if (error) throw new Error(error);
  return { data: symbol.data, width: symbol.width };
}
