/** What became of a scanned or typed text: a fixture, or a problem with words for it. */
import { ask } from '../engine/client';

/**
 * The fixture that carries the tag; or the problem: "tag-damaged",
 * "tag-foreign", "tag-unknown", or "failed" when nobody could look it up.
 */
export interface Outcome {
  text: string;
  code?: string;
  fixture?: string;
  problem?: string;
}

/** Look a text up among the fixtures that this device knows. Never throws. */
export async function tagOf(text: string): Promise<Outcome> {
  try {
    const { code, fixture, problem } = await ask('tag', { text });
    return { text, code, fixture, problem };
  } catch {
    return { text, problem: 'failed' };
  }
}
