/** What this device's person may do. The server holds everybody to it; here is only shown what makes sense. */
import { status } from '../engine/client';

type Duty = 'technician' | 'supervisor' | 'engineer';

function has(...duties: Duty[]): boolean {
  return (status.value.me?.person.duties ?? []).some((duty) => duties.includes(duty as Duty));
}

/** Sites, fixtures, joints, programs, people and devices. */
export const supervises = () => has('supervisor');

/** Rounds, looks and mending; at a start, before anything is known, too: recording never waits. */
export const records = () => status.value.me === null || has('technician', 'supervisor');

/** Reviews of findings. */
export const reviews = () => has('engineer', 'supervisor');
