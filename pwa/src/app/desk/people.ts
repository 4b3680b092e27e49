/** Calls about people and invitations: rows of the server. */
import { server } from '../../link/server';

/** What people do here; several may be one person's. */
export const duties = ['technician', 'supervisor', 'engineer'] as const;
export type Duty = (typeof duties)[number];

/** A person; sites are ids, or "*" for all. */
export interface Person {
  id: string;
  name: string;
  duties: Duty[];
  sites: string[];
}

/** Whom to invite. */
export interface Guest {
  name: string;
  duties: readonly Duty[];
  sites: readonly string[];
}

/** An invitation just made: it is shown once and never again. */
export interface Invitation {
  link: string;
  code: string;
  /** The link as a QR code: a whole svg. */
  qr: string;
  expires: string;
}

/** Everybody of this installation. */
export function people(): Promise<Person[]> {
  return server.get<Person[]>('/api/people');
}

/** Change what somebody does and where. */
export function changePerson(id: string, { duties, sites }: Pick<Guest, 'duties' | 'sites'>): Promise<Person> {
  return server.patch<Person>(`/api/people/${id}`, { duties, sites });
}

/** Make an invitation for one more device of somebody who is here. */
export function inviteDevice(person: string): Promise<Invitation> {
  return server.post<Invitation>(`/api/people/${person}/devices`, {});
}

/** Make an invitation, good for one device and a few minutes. */
export function invite(guest: Guest): Promise<Invitation> {
  return server.post<Invitation>('/api/invitations', guest);
}
