/** HTTP as page and worker both speak it: our header, problem details as faults. */
import { Fault } from '../engine/fault';
import type { Problem } from './types';

const patience = 20_000; // ms until a try counts as unanswered

export interface Sending {
  method?: string;
  headers?: Record<string, string>;
  body?: BodyInit;
  /** Until a try counts as unanswered, ms; 20 s where none is given. */
  patience?: number;
  /** Stops it; then the fault is 'stopped'. */
  stop?: AbortSignal;
}

/** Faults: 'offline' when nobody of ours answered; else the code of the server's problem details, with its status. */
export async function send(path: string, sending: Sending = {}): Promise<Response> {
  let answer: Response;
  const late = AbortSignal.timeout(sending.patience ?? patience);
  try {
    answer = await fetch(path, {
      method: sending.method ?? 'GET',
      headers: { 'X-Jointwalk': '1', ...sending.headers },
      body: sending.body ?? null,
      credentials: 'same-origin',
      cache: 'no-store',
      signal: sending.stop ? AbortSignal.any([late, sending.stop]) : late,
    });
  } catch {
    throw new Fault(sending.stop?.aborted ? 'stopped' : 'offline');
  }
  if (!answer.ok) throw await problem(answer);
  return answer;
}

/** A refusal as a fault. What does not look like ours (a proxy, a portal) is 'offline'. */
async function problem(answer: Response): Promise<Fault> {
  const told: Partial<Problem> | null = await json(answer);
  if (typeof told?.code === 'string') return new Fault(told.code, told.field, answer.status, told.request);
  if (answer.status === 401) return new Fault('signed-out', undefined, 401);
  return new Fault('offline', String(answer.status), answer.status);
}

async function json(answer: Response): Promise<Partial<Problem> | null> {
  try {
    const told: unknown = await answer.json();
    return typeof told === 'object' && told !== null ? told : null;
  } catch {
    return null;
  }
}
