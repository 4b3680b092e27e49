/** What lets a device in, out of what was scanned, typed or linked to. */
import { plain } from '../../scan/code';

/**
 * What to send to the server for a text: the secret behind "#" of a link to
 * /join as it stands, or the typed code without its grouping; null when it is
 * something else. Whether it is good is for the server to say.
 */
export function secretIn(text: string): string | null {
  const clean = text.trim();
  if (!/^https?:\/\//i.test(clean)) return bare(clean);
  const secret = /\/join#([^\s#]+)$/i.exec(clean)?.[1];
  return secret ?? null;
}

/** A code as it is typed: upper case, in groups of five as invitations write it. */
export function groupedCode(text: string): string {
  return (plain(text).match(/.{1,5}/g) ?? []).join('-');
}

function bare(text: string): string | null {
  if (!/^[0-9A-Za-z\s-]+$/.test(text)) return null;
  const code = plain(text);
  return code.length >= 6 && code.length <= 24 ? code : null;
}
