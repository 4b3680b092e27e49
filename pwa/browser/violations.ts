/**
 * What a browser refused because a policy forbids it. The browser writes that into its own log, of pages, of their workers
 * and of service workers alike: nothing that a page does can hide it, and none of ours may stand there.
 */
import { existsSync, readFileSync } from 'node:fs';

/** The lines of a browser's log about a content security policy, in its words. */
export function violations(log: string): string[] {
  if (!existsSync(log)) return [];
  return readFileSync(log, 'utf8').split('\n').filter((line) => line.includes('Content Security Policy'));
}
