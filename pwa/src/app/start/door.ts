/** The few calls by which a device becomes known: hello, set-up, pairing. */
import { Fault, forgetAll, meAgain, wanted } from '../../engine/client';
import { server } from '../../link/server';

/** What the server says to anybody. */
export interface Hello {
  version: string;
  needsSetup: boolean;
  secure: boolean;
  /** Where the page stands that says how a device comes to trust the certificate; "" where there is none. */
  trust: string;
}

/** Ask the server who it is; rejects with a Fault of code "offline" when it is silent. */
export function hello(): Promise<Hello> {
  return server.get<Hello>('/api/hello');
}

/** What the first person says at set-up. */
export interface Setup {
  code: string;
  name: string;
  device: string;
  example: boolean;
}

/** Make the first person and sign this device in. */
export async function setUp(body: Setup): Promise<void> {
  wanted();
  await server.post('/api/setup', body);
  await meAgain();
}

/** Pair this device with an invitation. */
export async function pair(body: { code: string; device: string }): Promise<void> {
  wanted();
  await server.post('/api/pair', body);
  await meAgain();
}

/** Take this device out; it needs a new invitation to come back. What was sent is taken off it. */
export async function leave(): Promise<void> {
  await server.post('/api/leave', {}).catch(outAlready);
  await forgetAll();
}

/** A device that the server knows no more, perhaps as an earlier leave was cut off, is still to be cleared. */
function outAlready(fault: unknown): void {
  if (!(fault instanceof Fault) || fault.status !== 401) throw fault;
}
