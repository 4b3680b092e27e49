/** A new UUIDv7: the id of an event, made before the engine is asked, so that asking twice keeps once. */
export function uuidv7(now: number = Date.now()): string {
  const raw = crypto.getRandomValues(new Uint8Array(16));
  for (let i = 0; i < 6; i++) raw[i] = Math.floor(now / 2 ** (40 - 8 * i)) % 256;
  raw[6] = ((raw[6] ?? 0) & 0x0f) | 0x70;
  raw[8] = ((raw[8] ?? 0) & 0x3f) | 0x80;
  const hex = Array.from(raw, (part) => part.toString(16).padStart(2, '0')).join('');
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-');
}
