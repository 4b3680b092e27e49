/** A desk asks the server itself while it answers, and hears from it when something changed. */
import { send } from './http';

const wide = '(min-width: 900px)';

/** Whether this is a desk now: a screen with room. */
export function isDesk(): boolean {
  return matchMedia(wide).matches;
}

/** Puts a question to the server. Faults: 'offline' when nobody answered. */
export async function askServer(question: string, args: unknown): Promise<unknown> {
  const answer = await send(`/api/ask/${question}`, {
    method: 'POST',
    headers: { 'Content-Type': 'application/json' },
    body: JSON.stringify(args),
  });
  return answer.json();
}

/** Listens while this is a desk and `open` says so; call the result whenever that may have changed. */
export function stream(open: () => boolean, moved: () => void): () => void {
  let source: EventSource | undefined;
  const follow = () => {
    const wanted = isDesk() && open();
    if (wanted && !source) {
      const made = new EventSource('/api/stream');
      made.onopen = moved; // what came while nobody listened
      made.onmessage = moved;
      made.onerror = () => {
        if (made.readyState === EventSource.CLOSED && source === made) source = undefined;
      };
      source = made;
    } else if (!wanted && source) {
      source.close();
      source = undefined;
    }
  };
  matchMedia(wide).addEventListener('change', follow);
  return follow;
}
