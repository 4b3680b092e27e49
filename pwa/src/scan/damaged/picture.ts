/**
 * Pictures of damaged labels, made from the symbols that the server prints: as a phone's camera would see them. Only for
 * trying the reader; nothing of it is shipped.
 */

/** A symbol's modules, a row a line: # is dark. */
export type Modules = readonly string[];

/** One kind of damage, and how much of it. Shares are parts of the symbol's area, or of its side for what is long. */
export interface Damage {
  /** Round spots over a share of the symbol, through which so much light comes back: 0 is opaque dirt. */
  blots?: { share: number; through: number };
  /** A corner torn off, as a triangle with this share of the area: the one without a square pattern, or one with. */
  corner?: { share: number; pattern: boolean };
  /** A strip gone along one edge, this share of the side wide. */
  edge?: number;
  /** Tilted by so many degrees about a random axis in the label, seen from twice its side. */
  tilt?: number;
  /** A white streak across the symbol, this share of the side wide. */
  glare?: number;
  /** Blurred by a Gaussian of this σ, as a share of the side. */
  blur?: number;
  /** Dark and light differ by this share of full scale; 0.8 otherwise. */
  contrast?: number;
  /** The symbol is so many pixels wide; 120 otherwise. */
  pixels?: number;
}

/** Random numbers in [0, 1) that a seed repeats (the well-known 32-bit generator "mulberry32"). */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let x = Math.imul(state ^ (state >>> 15), state | 1);
    x = (x + Math.imul(x ^ (x >>> 7), x | 61)) ^ x;
    return ((x ^ (x >>> 14)) >>> 0) / 4294967296;
  };
}

/** Grey in [0, 1] at a place on the label; the symbol is the unit square. */
type Ink = (x: number, y: number) => number;

const desk = 0.55;
const quiet = 4; // modules of white around

/** A square picture as its grey values in [0, 1]. */
export interface Picture {
  side: number;
  grey: Float64Array;
}

/** A picture of a symbol with a damage. */
export function picture(symbol: Modules, damage: Damage, random: () => number): Picture {
  const { pixels = 120, contrast = 0.8 } = damage;
  const ink = dimmed(torn(blotted(printed(symbol), damage.blots, random), damage, random), contrast);
  const side = Math.round(pixels * 1.6);
  const back = seenFrom(damage.tilt ?? 0, random);
  const streak = streakOf(damage.glare ?? 0, random);
  const shift = [random() - 0.5, random() - 0.5].map((one) => one / pixels);
  const grey = new Float64Array(side * side);
  for (let row = 0; row < side; row++) {
    for (let column = 0; column < side; column++) {
      grey[row * side + column] = sampled(ink, back, streak, side, pixels, shift, row, column);
    }
  }
  return { side, grey: noisy(blurred({ side, grey }, (damage.blur ?? 0) * pixels), random) };
}

/** Mean of four points of a pixel. */
function sampled(ink: Ink, back: Back, streak: Streak, side: number, pixels: number, shift: number[], row: number, column: number): number {
  let sum = 0;
  for (let n = 0; n < 4; n++) {
    const x = (column + (n % 2) / 2 + 1 / 4 - side / 2) / pixels + (shift[0] ?? 0);
    const y = (row + Math.floor(n / 2) / 2 + 1 / 4 - side / 2) / pixels + (shift[1] ?? 0);
    const [u, v] = back(x, y);
    sum += streak(x, y) ? 1 : ink(u + 0.5, v + 0.5);
  }
  return sum / 4;
}

function printed(symbol: Modules): Ink {
  const n = symbol.length;
  const margin = quiet / n;
  return (x, y) => {
    if (x < -margin || y < -margin || x > 1 + margin || y > 1 + margin) return desk;
    return symbol[Math.floor(y * n)]?.[Math.floor(x * n)] === '#' ? 0 : 1;
  };
}

/** Spots of 4 to 10 % of the side in radius until they cover their share. */
function blotted(ink: Ink, blots: Damage['blots'], random: () => number): Ink {
  if (blots === undefined) return ink;
  const { share, through } = blots;
  const grid = 64;
  const covered = new Uint8Array(grid * grid);
  const spots: [number, number, number][] = [];
  while (covered.reduce((sum, one) => sum + one, 0) < share * grid * grid) {
    const [x, y, r] = [random(), random(), 0.04 + 0.06 * random()];
    spots.push([x, y, r]);
    covered.forEach((_, i) => {
      if (Math.hypot(((i % grid) + 0.5) / grid - x, (Math.floor(i / grid) + 0.5) / grid - y) < r) covered[i] = 1;
    });
  }
  return (u, v) => ink(u, v) * (spots.some(([x, y, r]) => Math.hypot(u - x, v - y) < r) ? through : 1);
}

/** What is torn off shows the desk; its quiet zone goes with it. */
function torn(ink: Ink, { corner, edge }: Damage, random: () => number): Ink {
  if (corner !== undefined) {
    const leg = Math.sqrt(2 * corner.share);
    const which = corner.pattern ? Math.floor(3 * random()) : 3; // upper left, upper right, lower left; lower right
    return (u, v) => ((which & 1 ? 1 - u : u) + (which & 2 ? 1 - v : v) < leg ? desk : ink(u, v));
  }
  if (edge !== undefined) {
    const which = Math.floor(4 * random());
    return (u, v) => ([u, v, 1 - u, 1 - v][which]! < edge ? desk : ink(u, v));
  }
  return ink;
}

/** Paper at its own brightness, and what is printed on it not darker than the contrast allows. */
function dimmed(ink: Ink, contrast: number): Ink {
  const paper = 0.5 + contrast / 2;
  return (u, v) => paper - contrast * (1 - ink(u, v));
}

/** Where on the label a point of the picture lies, both from the middle. */
type Back = (x: number, y: number) => [number, number];

function seenFrom(tilt: number, random: () => number): Back {
  const turn = (random() - 0.5) * (Math.PI / 6); // held level within 15°
  const axis = random() * 2 * Math.PI;
  const [c, s] = [Math.cos((tilt * Math.PI) / 180), Math.sin((tilt * Math.PI) / 180)];
  const away = 2; // from the eye to the label, in sides
  return (x, y) => {
    const along = x * Math.cos(axis) + y * Math.sin(axis);
    const across = -x * Math.sin(axis) + y * Math.cos(axis);
    const depth = c - (across * s) / away; // across = a·c / (1 + a·s/away), solved for a
    const a = across / depth;
    const b = along * (1 + (a * s) / away);
    const [u, v] = [b * Math.cos(axis) - a * Math.sin(axis), b * Math.sin(axis) + a * Math.cos(axis)];
    return depth <= 0 ? [9, 9] : [u * Math.cos(turn) - v * Math.sin(turn), u * Math.sin(turn) + v * Math.cos(turn)];
  };
}

type Streak = (x: number, y: number) => boolean;

function streakOf(width: number, random: () => number): Streak {
  if (width === 0) return () => false;
  const [angle, off] = [random() * Math.PI, 0.6 * (random() - 0.5)];
  return (x, y) => Math.abs(x * Math.cos(angle) + y * Math.sin(angle) - off) < width / 2;
}

/** A Gaussian blur, rows and then columns. */
function blurred({ side, grey }: Picture, sigma: number): Float64Array {
  if (sigma === 0) return grey;
  const reach = Math.ceil(3 * sigma);
  const weights = Array.from({ length: 2 * reach + 1 }, (_, i) => Math.exp(-((i - reach) ** 2) / (2 * sigma * sigma)));
  const whole = weights.reduce((sum, one) => sum + one, 0);
  const pass = (from: Float64Array, step: number) =>
    from.map((_, at) => {
      const place = Math.floor(at / step) % side;
      return weights.reduce((sum, w, i) => sum + w * from[at + (Math.min(side - 1, Math.max(0, place + i - reach)) - place) * step]!, 0) / whole;
    });
  return pass(pass(grey, 1), side);
}

/** Noise of a sensor: evenly within ± 2.5 % of full scale. */
function noisy(grey: Float64Array, random: () => number): Float64Array {
  return grey.map((one) => Math.min(1, Math.max(0, one + 0.05 * (random() - 0.5))));
}
