/** The rounds of a fixture that a phone does not hold: asked for by a person, not part of an exchange. */
import { send } from './http';

/** What the server knows of a fixture, for the engine to keep. Faults as send's. */
export async function olderOf(fixture: string): Promise<string> {
  const answer = await send(`/api/older?fixture=${encodeURIComponent(fixture)}`);
  return answer.text();
}
