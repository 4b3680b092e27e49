/** What stands on the screen that adds joints quickly, and what it saves. */
import type { Draft } from '../../engine/client';
import type { Fixture, JointCard } from '../../engine/types';
import { above } from '../desk/numbers';
import { last } from '../desk/edit/order';
import { after, firstOf, free } from './names';

/** The next joint as far as it was said. Name is null while nobody typed one: it then follows from the kind. */
export interface Next {
  name: string | null;
  kind: string;
  circuit: string;
  size: string;
  unit: string;
  /** The place of the last joint added here: the list may not have heard of it yet. */
  order: number;
}

/** Where a fixture's next joint begins. */
export function beginning({ joints }: Pick<Fixture, 'joints'>): Next {
  const { kind = 'compression', circuit = 'test', tube } = joints.at(-1) ?? {};
  return { name: null, kind, circuit, size: tube ? String(tube.value) : '', unit: tube?.unit ?? 'mm', order: 0 };
}

/** How the next joint will be called. */
export function called(next: Next, kindWord: string, joints: readonly Pick<JointCard, 'name'>[]): string {
  return free(next.name ?? firstOf(kindWord), joints.map(({ name }) => name));
}

/** The joint to be saved under a name; null while its size is no length. */
export function draftOf(next: Next, name: string, fixture: Pick<Fixture, 'id' | 'site' | 'joints'>): (Draft & { kind: 'joint-added' }) | null {
  const value = next.size.trim() === '' ? null : above(next.size);
  if (typeof value === 'string') return null;
  const tube = value === null ? {} : { tube: { value, unit: next.unit } };
  const order = Math.max(last(fixture.joints), next.order + 1);
  return { kind: 'joint-added', site: fixture.site, fixture: fixture.id, body: { name, kind: next.kind, circuit: next.circuit, ...tube, order } };
}

/** The same again: one name further, one place further. */
export function again(next: Next, name: string, order: number): Next {
  return { ...next, name: after(name), order };
}

/** Everything of a fixture that another one is given: its joints in their order, and its program where that has none. */
export function copyOf(from: Fixture, to: Fixture): Draft[] {
  const { site, id: fixture, base } = to;
  const first = last(to.joints);
  const joints = from.joints.map(({ name, kind, circuit, tube }, i): Draft => ({
    kind: 'joint-added', site, fixture, body: { name, kind, circuit, ...(tube && { tube }), order: first + i },
  }));
  if (from.program === undefined || to.program !== undefined) return joints;
  const { seen: _, ...program } = from.program.program;
  return [...joints, { kind: 'program-set', site, fixture, base, body: program }];
}
