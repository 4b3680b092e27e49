/**
 * The last errors of this device, for a report. Of each only what cannot hold anybody's words is kept: what kind it was, its
 * stable code, and where in our own files. A message is never kept.
 */

/** One error. */
export interface Noted {
  /** When, RFC 3339 in UTC. */
  at: string;
  kind: string;
  /** A Fault's code; "" where there is none. */
  code: string;
  /** Files of the app with line and column, innermost first. */
  places: string[];
}

const key = 'jointwalk-errors';
const most = 12;
const mostPlaces = 6;
const file = /\b[\w-]+\.(?:js|wasm|ts|tsx):\d+(?::\d+)?/g;

/** Hears what nobody caught. Once, by main. */
export function hearErrors(): void {
  addEventListener('error', ({ error }) => note(error));
  addEventListener('unhandledrejection', ({ reason }) => note(reason));
}

/** Keeps an error; the oldest one goes. */
export function note(thrown: unknown): void {
  const all = [...noted(), noteOf(thrown, new Date().toISOString())].slice(-most);
  try {
    localStorage.setItem(key, JSON.stringify(all));
  } catch {
    // Nothing is kept in this browser: then a report tells of none.
  }
}

/** The errors kept, the newest last. */
export function noted(): Noted[] {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(key) ?? '[]');
    return Array.isArray(kept) ? kept.slice(-most).map(cleaned) : [];
  } catch {
    return [];
  }
}

/** What of an error is kept. */
export function noteOf(thrown: unknown, at: string): Noted {
  const { name, code, stack } = (typeof thrown === 'object' && thrown !== null ? thrown : {}) as Record<string, unknown>;
  const message = (thrown as Error | undefined)?.message;
  return cleaned({ at, kind: name, code, places: String(stack ?? '').replace(String(message), '').match(file) });
}

/** A code as ours are: words of small letters with hyphens. */
export function codeLike(value: unknown): string {
  return typeof value === 'string' && /^[a-z]{2,16}(-[a-z0-9]{1,12}){0,4}$/.test(value) ? value : '';
}

function cleaned(value: unknown): Noted {
  const { at, kind, code, places } = (value ?? {}) as Record<string, unknown>;
  const files = (Array.isArray(places) ? places : []).flatMap((place) => String(place).match(file) ?? []);
  return {
    at: typeof at === 'string' && /^\d{4}-\d\d-\d\dT[\d:.]+Z$/.test(at) ? at : '',
    kind: typeof kind === 'string' && /^[A-Za-z]{0,20}(Error|Exception|Fault)$/.test(kind) ? kind : 'other',
    code: codeLike(code),
    places: files.slice(0, mostPlaces),
  };
}
