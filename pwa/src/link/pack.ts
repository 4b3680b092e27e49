/** Packs what travels: a phone at the edge of the network pays for each byte in seconds. */

/** Shorter bodies travel in one packet anyhow. */
const least = 1000;

/** The body as gzip; null where that is not worth it or cannot be had. */
export async function packed(body: Uint8Array, type: string): Promise<Uint8Array | null> {
  const words = type === 'application/json' || type === 'application/x-ndjson'; // pictures are packed already
  if (!words || body.length < least || typeof CompressionStream === 'undefined') return null;
  const stream = new Blob([body as Uint8Array<ArrayBuffer>]).stream().pipeThrough(new CompressionStream('gzip'));
  return new Uint8Array(await new Response(stream).arrayBuffer());
}

/** Whether an answer says that its server takes gzip (RFC 7694). One that says nothing would take it for garbage. */
export function unpacks(answer: Response): boolean {
  return (answer.headers.get('Accept-Encoding') ?? '').split(',').some((coding) => coding.trim() === 'gzip');
}
