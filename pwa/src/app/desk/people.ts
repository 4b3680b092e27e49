/** Calls about people and invitations: rows of the server. */
import { server } from '../../link/server';

/** What people do here; several may be one person's. */
export const duties = ['technician', 'supervisor', 'engineer'] as const;
export type Duty = (typeof duties)[number];

/** What somebody does where: id of a site, or "*" for all. */
export type Grants = Record<string, readonly Duty[]>;

/** A person. */
export interface Person {
  id: string;
  name: string;
  grants: Grants;
}

/** Whom to invite. */
export interface Guest {
  name: string;
  grants: Grants;
}

/** An invitation just made: it is shown once and never again. */
export interface Invitation {
  /** To ask what came of it. */
  id: string;
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

/** Change what somebody does at the sites named; nothing there takes a site away. */
export function changePerson(id: string, grants: Grants): Promise<Person> {
  return server.patch<Person>(`/api/people/${id}`, { grants });
}

/** Shut all of somebody's devices out, and take back what invites one more. */
export function shutOutAll(id: string): Promise<void> {
  return server.post(`/api/people/${id}/revoke`);
}

/** Erase somebody's name for good and shut their devices out. */
export function eraseName(id: string): Promise<void> {
  return server.post(`/api/people/${id}/erase`);
}

/** Make an invitation for one more device of somebody who is here. */
export function inviteDevice(person: string): Promise<Invitation> {
  return server.post<Invitation>(`/api/people/${person}/devices`, {});
}

/** What came of an invitation. */
export interface Taking {
  state: 'waiting' | 'used' | 'expired' | 'blocked';
  /** The name of the device that took it, '' before. */
  device: string;
}

/** Ask what came of an invitation. */
export function takingOf(id: string): Promise<Taking> {
  return server.get<Taking>(`/api/invitations/${id}`);
}

/** Make an invitation, good for one device and a few minutes. */
export function invite(guest: Guest): Promise<Invitation> {
  return server.post<Invitation>('/api/invitations', guest);
}
