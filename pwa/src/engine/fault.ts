/** An error with a stable code; words come from the catalogue. */
export class Fault extends Error {
  constructor(
    readonly code: string,
    readonly field?: string,
    /** The HTTP status where a server answered. */
    readonly status?: number,
    /** The id of the request where a server answered: its log has it. */
    readonly request?: string,
  ) {
    super(field ? `${code}: ${field}` : code);
    this.name = 'Fault';
  }
}

/** Any thrown thing as a Fault; what has no code becomes "internal". */
export function asFault(thrown: unknown): Fault {
  return thrown instanceof Fault ? thrown : new Fault('internal', String(thrown));
}
