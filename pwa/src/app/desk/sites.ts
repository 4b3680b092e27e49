/** Calls about sites: rows of the server, so they need it to be there. */
import { Fault, meAgain, named } from '../../engine/client';
import type { Site } from '../../engine/types';
import { server } from '../../link/server';
import { known, said, t } from '../../words';

/** Add a site; its time zone is this device's. */
export async function addSite(name: string, place: string): Promise<Site> {
  const zone = Intl.DateTimeFormat().resolvedOptions().timeZone;
  const site = await server.post<Site>('/api/sites', { name, place, zone });
  await meAgain();
  return site;
}

/** Give a site another name or place. */
export async function changeSite(id: string, name: string, place: string): Promise<void> {
  await server.patch(`/api/sites/${id}`, { name, place });
  await meAgain();
}

/** What to say when a call of the desk failed. */
export function refusal(fault: unknown): string {
  const code = fault instanceof Fault ? fault.code : 'unknown';
  if (known('desk', code)) return said('desk', code);
  return t('desk.failed', { code: named(fault) });
}
