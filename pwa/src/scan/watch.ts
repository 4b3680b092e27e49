/** Reads a live picture again and again until something was found. */

/** How long between two readings, in ms: often enough to feel at once, seldom enough to stay cool. */
const pause = 120;

/** What a watch needs: a way to read one picture, to wait, and to know whether there is a picture. */
export interface Eye {
  ready(): boolean;
  read(): Promise<string[]>;
  wait(ms: number): Promise<void>;
}

/**
 * Call `found` with each text that is read and is not the one before. Runs until
 * `signal` is aborted; `broken` is called once, when the reader cannot read at all.
 */
export async function watch(
  eye: Eye,
  signal: AbortSignal,
  found: (text: string) => void,
  broken: (fault: unknown) => void,
): Promise<void> {
  let last = '';
  while (!signal.aborted) {
    try {
      const text = eye.ready() ? (await eye.read())[0] : undefined;
      if (signal.aborted) return;
      if (text !== undefined && text !== last) {
        last = text;
        found(text);
      }
    } catch (fault) {
      broken(fault);
      return;
    }
    await eye.wait(pause);
  }
}
