/**
 * What this device's person may do at a site, or anywhere when none is named. The server holds everybody to it; here is
 * only shown what makes sense.
 */
import { status } from '../engine/client';

type Duty = 'technician' | 'supervisor' | 'engineer';

function has(site: string | undefined, ...duties: Duty[]): boolean {
  const me = status.value.me;
  const here = site === undefined ? undefined : me?.sites.find(({ id }) => id === site);
  return (here?.duties ?? me?.person.duties ?? []).some((duty) => duties.includes(duty as Duty));
}

/** Sites, fixtures, joints, programs, people and devices. */
export const supervises = (site?: string) => has(site, 'supervisor');

/** The same at all sites, later ones too. */
export const supervisesAll = () => status.value.me?.person.everywhere === true;

/** Rounds, looks and mending; at a start, before anything is known, too: recording never waits. */
export const records = (site?: string) => status.value.me === null || has(site, 'technician', 'supervisor');

/** Reviews of findings. */
export const reviews = (site?: string) => has(site, 'engineer', 'supervisor');

/** Correcting or withdrawing what somebody saw: one's own, or any as a supervisor. */
export const corrects = (by: string, site?: string) =>
  supervises(site) || (records(site) && (status.value.me === null || status.value.me.person.id === by));
