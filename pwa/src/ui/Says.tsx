import { listed, num, said } from '../words';

/** A sentence from the engine: a code, its parameters, and names to list. */
export interface SaidPhrase {
  code: string;
  args?: Record<string, string>;
  names?: string[];
}

/** One phrase in words. */
export function phrase(one: SaidPhrase): string {
  const names = one.names ?? [];
  return said('says', one.code, { n: names.length, ...one.args, names: listed(names) });
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
