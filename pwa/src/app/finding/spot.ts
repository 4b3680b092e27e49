/** Places in a picture, as parts of its width and height. */

/** A place in a picture, 0 to 1 from its left and top edge. */
export interface Spot {
  x: number;
  y: number;
}

/** The place in a box on the screen. */
export function spotIn(box: DOMRect, clientX: number, clientY: number): Spot {
  return inside((clientX - box.left) / box.width, (clientY - box.top) / box.height);
}

/** A place so much further, and not outside of the picture. */
export function moved({ x, y }: Spot, dx: number, dy: number): Spot {
  return inside(x + dx, y + dy);
}

function inside(x: number, y: number): Spot {
  return { x: within(x, 1, 1e4), y: within(y, 1, 1e4) };
}

/** A length from 0 to the most that it may be, rounded to so many parts of one. */
export function within(length: number, most: number, parts: number): number {
  return Math.round(Math.min(most, Math.max(0, length)) * parts) / parts;
}

/** Which way an arrow key moves what is chosen, and how far; undefined for any other key. */
export function stepOf(key: string, far: number): [dx: number, dy: number] | undefined {
  switch (key) {
    case 'ArrowLeft': return [-far, 0];
    case 'ArrowRight': return [far, 0];
    case 'ArrowUp': return [0, -far];
    case 'ArrowDown': return [0, far];
  }
  return undefined;
}
