/**
 * Draws the app's icon, a drop in a ring, as PNG at build: phones want it as
 * pixels, and drawn from one description it cannot differ from icon.svg.
 */
import { crc32, deflateSync } from 'node:zlib';
import type { Plugin } from 'vite';

type Colour = readonly [number, number, number];
const paper: Colour = [255, 255, 255];
const ink: Colour = [26, 26, 26];
const accent: Colour = [0, 90, 156];

const sizes = { 'icon-192.png': 192, 'icon-512.png': 512, 'apple-touch-icon.png': 180 };

export function icons(): Plugin {
  return {
    name: 'icons',
    generateBundle() {
      if (this.environment.name !== 'client') return;
      this.emitFile({ type: 'asset', fileName: 'icon.svg', source: svg() });
      for (const [fileName, size] of Object.entries(sizes)) {
        this.emitFile({ type: 'asset', fileName, source: png(size) });
      }
    },
  };
}

/** The drop: a circle of radius 15 round (50, 56), its tip at (50, 27). */
const drop = { x: 50, y: 56, r: 15, tip: 27 };
const ring = { r: 34, half: 3.5 };

function svg(): string {
  const { x, y, r, tip } = drop;
  const lift = (r * r) / (y - tip);
  const side = Math.sqrt(r * r - lift * lift);
  const arc = `M${x} ${tip}L${x + side} ${y - lift}A${r} ${r} 0 1 1 ${x - side} ${y - lift}Z`;
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100"><path fill="${hex(paper)}" d="M0 0h100v100H0z"/><circle cx="50" cy="50" r="${ring.r}" fill="none" stroke="${hex(ink)}" stroke-width="${2 * ring.half}"/><path fill="${hex(accent)}" d="${arc}"/></svg>`;
}

function hex(colour: Colour): string {
  return `#${colour.map((part) => part.toString(16).padStart(2, '0')).join('')}`;
}

/** The colour of a point on the 100 × 100 field. */
function at(x: number, y: number): Colour {
  if (inDrop(x, y)) return accent;
  return Math.abs(Math.hypot(x - 50, y - 50) - ring.r) <= ring.half ? ink : paper;
}

function inDrop(x: number, y: number): boolean {
  const { r, tip } = drop;
  if (Math.hypot(x - drop.x, y - drop.y) <= r) return true;
  const reach = drop.y - tip;
  const lift = (r * r) / reach;
  if (y < tip || y > drop.y - lift) return false;
  const slope = Math.sqrt(r * r - lift * lift) / (reach - lift);
  return Math.abs(x - drop.x) <= (y - tip) * slope;
}

/** An 8-bit RGB PNG, each pixel the mean of 3 × 3 points. */
function png(size: number): Buffer {
  const rows = Buffer.alloc(size * (1 + size * 3));
  for (let j = 0; j < size; j++) {
    for (let i = 0; i < size; i++) {
      const where = j * (1 + size * 3) + 1 + i * 3;
      mean(i, j, 100 / size).forEach((part, k) => rows.writeUInt8(part, where + k));
    }
  }
  const head = Buffer.alloc(13);
  head.writeUInt32BE(size, 0);
  head.writeUInt32BE(size, 4);
  head.set([8, 2, 0, 0, 0], 8);
  const mark = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
  return Buffer.concat([mark, chunk('IHDR', head), chunk('IDAT', deflateSync(rows)), chunk('IEND', Buffer.alloc(0))]);
}

function mean(i: number, j: number, step: number): number[] {
  const sum = [0, 0, 0];
  for (let k = 0; k < 9; k++) {
    const colour = at((i + (1 + 2 * (k % 3)) / 6) * step, (j + (1 + 2 * Math.floor(k / 3)) / 6) * step);
    colour.forEach((part, n) => {
      sum[n] = (sum[n] ?? 0) + part;
    });
  }
  return sum.map((part) => Math.round(part / 9));
}

function chunk(kind: string, data: Buffer): Buffer {
  const body = Buffer.concat([Buffer.from(kind, 'latin1'), data]);
  const frame = Buffer.alloc(8 + body.length);
  frame.writeUInt32BE(data.length, 0);
  frame.set(body, 4);
  frame.writeUInt32BE(crc32(body), 4 + body.length);
  return frame;
}
