/** A record that was set aside, opened to be amended and sent again. */
import type { Draft } from '../../engine/client';
import type { SetAside } from '../../link/asides';
import { typed } from '../../words';
import { textOf } from '../desk/numbers';

/** A plain field of a record: a text or a number, as the text of a form. */
export interface Plain {
  field: string;
  text: string;
  number: boolean;
}

/** A record's line as far as it is needed here. */
interface Line {
  base?: string;
  body: Record<string, unknown>;
}

/** Names and references that a person does not type. */
const kept = new Set(['joint', 'round', 'program', 'second', 'hash', 'type', 'site', 'tag']);

/** What a line holds; null when it cannot be read. */
export function opened(line: string): Line | null {
  try {
    const read = JSON.parse(line) as Partial<Line> | null;
    return read && typeof read.body === 'object' && read.body !== null ? { ...read, body: read.body } : null;
  } catch {
    return null;
  }
}

/** The fields that can be amended as texts. */
export function plain({ body }: Line): Plain[] {
  return Object.entries(body).flatMap(([field, value]): Plain[] => {
    if (kept.has(field)) return [];
    if (typeof value === 'string') return [{ field, text: value, number: false }];
    return typeof value === 'number' ? [{ field, text: textOf(value), number: true }] : [];
  });
}

/** Whether a number among the fields cannot be read. */
export function unread(fields: readonly Plain[]): boolean {
  return fields.some(({ number, text }) => number && typed(text) === null);
}

/** The record to send in one's own name: what was set aside, with the fields as they stand now. */
export function again(aside: SetAside, { base, body }: Line, fields: readonly Plain[]): Draft {
  const amended = fields.map(({ field, text, number }) => [field, number ? typed(text) : text.trim()]);
  const { site, fixture, of } = aside;
  const place = { site, ...(fixture && { fixture }), ...(of && { of }), ...(base && { base }) };
  return { kind: aside.kind, ...place, body: { ...body, ...Object.fromEntries(amended) } } as Draft;
}
