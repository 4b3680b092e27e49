/** What the server set aside: read, accepted, settled. Each call rejects with a Fault. */
import { server } from './server';
import type { SetAside } from './types';

export type { SetAside } from './types';

/** One's own that wait to be settled and, for supervisors, those of their sites. */
export function asides(): Promise<SetAside[]> {
  return server.get<SetAside[]>('/api/asides');
}

/** Lets one in as it is. */
export function accept({ hash }: SetAside): Promise<void> {
  return server.post(`/api/asides/${hash}/accept`);
}

/** Leaves one out for good: it was amended and sent again, or is dismissed. */
export function settle({ hash }: SetAside, how: 'amended' | 'dismissed'): Promise<void> {
  return server.post(`/api/asides/${hash}/settle`, { how });
}
