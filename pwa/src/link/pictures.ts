/** Pictures on their way to the server. */
import { send } from './http';

const slow = 300_000; // ms: a picture from the edge of the network

/** How each kind of picture begins; WebP has its name at byte 8. */
const beginnings: [type: string, at: number, bytes: number[]][] = [
  ['image/jpeg', 0, [0xff, 0xd8, 0xff]],
  ['image/png', 0, [0x89, 0x50, 0x4e, 0x47]],
  ['image/webp', 8, [0x57, 0x45, 0x42, 0x50]],
];

/** What kind of picture the bytes are, by their beginning. */
export function typeOf(bytes: Uint8Array): string {
  const found = beginnings.find(([, at, wanted]) => wanted.every((part, n) => bytes[at + n] === part));
  return found?.[0] ?? 'application/octet-stream';
}

/** Hands a picture in under its hash. Faults as send's. */
export async function putPicture(hash: string, bytes: Uint8Array): Promise<void> {
  await send(`/api/pictures/${hash}`, {
    method: 'PUT',
    headers: { 'Content-Type': typeOf(bytes) },
    body: new Blob([bytes as Uint8Array<ArrayBuffer>]),
    patience: slow,
  });
}
