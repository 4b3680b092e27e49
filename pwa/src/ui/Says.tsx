import { known, listed, num, said } from '../words';

/** A sentence from the engine: a code, its parameters, and names to list. */
export interface SaidPhrase {
  code: string;
  args?: Record<string, string>;
  names?: string[];
}

/** How many names a sentence holds before it gives their number instead. */
const mostNames = 4;

/** One phrase in words. */
export function phrase(one: SaidPhrase): string {
  const names = one.names ?? [];
  const many = names.length > mostNames && known('says', `${one.code}-many`);
  return said('says', many ? `${one.code}-many` : one.code, { n: names.length, ...one.args, names: listed(names) });
}

/** What is so, in sentences. `lead` sets the first as the page's own sentence. */
export function Says({ says, lead = false }: { says: readonly SaidPhrase[]; lead?: boolean }) {
  if (says.length === 0) return null;
  if (lead) {
    return (
      <div class="says lead">
        {says.map((one) => (
          <p key={one.code}>{phrase(one)}</p>
        ))}
      </div>
    );
  }
  return <span>{says.map(phrase).join(' ')}</span>;
}

/** A share in percent with its interval: "17 % (8–33)". */
export function share(range: { median: string; low: string; high: string }): string {
  return `${num(range.median)} % (${num(range.low)}–${num(range.high)})`;
}
