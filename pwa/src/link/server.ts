/** Calls to the server that are neither questions nor events: setup, pairing, people, sites. */
import { Fault } from '../engine/fault';
import { send } from './http';

async function told<T>(method: string, path: string, body?: unknown): Promise<T> {
  const answer = await send(path, {
    method,
    headers: { 'Content-Type': 'application/json' },
    ...(body === undefined ? {} : { body: JSON.stringify(body) }),
  });
  if (answer.status === 204) return undefined as T;
  try {
    return (await answer.json()) as T;
  } catch {
    throw new Fault('offline');
  }
}

/** Each rejects with a Fault: 'offline' when no answer came, else the server's code. */
export const server = {
  get: <T>(path: string) => told<T>('GET', path),
  post: <T>(path: string, body: unknown = {}) => told<T>('POST', path, body),
  patch: <T>(path: string, body: unknown) => told<T>('PATCH', path, body),
};
