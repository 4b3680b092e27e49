/**
 * A picture as it is kept: drawn anew, so that the place where it was taken and
 * all else that cameras write beside the pixels is gone, and no larger than it
 * needs to be.
 */

/** A re-encoded picture. */
export interface Redrawn {
  bytes: ArrayBuffer;
  width: number;
  height: number;
}

/** The longer side in pixels that still shows a bubble on a joint. */
export const longest = 1600;
const quality = 0.82;

/** Width and height that fit into `most`, never larger than they are. */
export function fitted(width: number, height: number, most: number): { width: number; height: number } {
  const scale = Math.min(1, most / Math.max(width, height));
  return { width: Math.max(1, Math.round(width * scale)), height: Math.max(1, Math.round(height * scale)) };
}

/** Draw a picture anew as JPEG; rejects when the device cannot read it. */
export async function redrawn(file: Blob): Promise<Redrawn> {
  const bitmap = await createImageBitmap(file, { imageOrientation: 'from-image' });
  const { width, height } = fitted(bitmap.width, bitmap.height, longest);
  const canvas = document.createElement('canvas');
  canvas.width = width;
  canvas.height = height;
  canvas.getContext('2d')?.drawImage(bitmap, 0, 0, width, height);
  bitmap.close();
  const blob = await new Promise<Blob | null>((done) => canvas.toBlob(done, 'image/jpeg', quality));
  if (blob === null) throw new Error('picture: the canvas gave no JPEG');
  return { bytes: await blob.arrayBuffer(), width, height };
}
