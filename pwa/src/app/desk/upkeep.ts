/** Calls about the installation itself: copies, devices, logs that were lost. */
import { server } from '../../link/server';
import type { KnownDevice, Upkeep } from '../../link/types';

export type { KnownDevice, LostLog, Upkeep } from '../../link/types';

/** How the installation stands. Rejects with a Fault. */
export function upkeep(): Promise<Upkeep> {
  return server.get<Upkeep>('/api/upkeep');
}

/** The devices of this person. Rejects with a Fault. */
export function ownDevices(): Promise<KnownDevice[]> {
  return server.get<KnownDevice[]>('/api/devices');
}

/** Closes a device: from now on it may only hand in what it holds. */
export function revoke(id: string): Promise<void> {
  return server.post(`/api/devices/${id}/revoke`);
}
