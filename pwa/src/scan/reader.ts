/**
 * Reads QR codes out of pictures with a decoder that this server serves itself:
 * it must work with the network cut, so its wasm is part of what the phone keeps.
 * Loaded only by screens that scan.
 */
import { BarcodeDetector, setZXingModuleOverrides } from 'barcode-detector/ponyfill';
import wasm from 'zxing-wasm/reader/zxing_reader.wasm?url';

setZXingModuleOverrides({ locateFile: (file: string, folder: string) => (file.endsWith('.wasm') ? wasm : folder + file) });

const detector = new BarcodeDetector({ formats: ['qr_code'] });

/** Anything that a picture can be read from. */
export type Source = HTMLVideoElement | HTMLCanvasElement | ImageBitmap | Blob;

/** The texts of the QR codes in a picture, biggest first; none is []. */
export async function read(source: Source): Promise<string[]> {
  const found = await detector.detect(source);
  return found
    .filter((code) => code.rawValue !== '')
    .sort((a, b) => area(b.boundingBox) - area(a.boundingBox))
    .map((code) => code.rawValue);
}

function area(box: DOMRectReadOnly): number {
  return box.width * box.height;
}
