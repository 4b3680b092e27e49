/** The group that is looked at together: pure steps over its state. */
import type { Draft } from '../../engine/client';
import type { Look, RoundJoint } from '../../engine/types';

/** A leak that waits to be sized, with how it was watched. */
export interface Queued {
  joint: string;
  seconds: number;
  back: boolean;
  /** The joint's last look when its group was started, '' for none. */
  last?: string;
}

/** The state of the group; kept as a draft while it runs. */
export interface Group {
  /** The wetted joints in place order; null: those proposed. */
  wetted: string[] | null;
  /** When the clock was started, in ms since 1970; null while it stands. */
  startedAt: number | null;
  bubbling: string[];
  /** Seen all around. */
  back: boolean;
  /** Marked leaks that are not sized yet. */
  queue: Queued[];
  /** How many joints are proposed together: as many as the last group had. */
  size: number;
  /** The last look of each wetted joint when the clock was started, '' for none. */
  before?: Record<string, string>;
}

/** How many joints are proposed to a person who has not looked yet. Judgement. */
const firstSize = 5;

/** A group before anything is wetted. */
export function idle(size = firstSize): Group {
  return { wetted: null, startedAt: null, bubbling: [], back: true, queue: [], size };
}

/**
 * The joints in the order in which they are looked at: repairs that wait for their second look, then the others by place,
 * or along the photo's pins and then those that have none.
 */
export function inOrder(joints: readonly RoundJoint[], order: 'place' | 'photo'): RoundJoint[] {
  const along = order === 'place' ? joints : byPhoto(joints);
  return [...along.filter(({ waits }) => waits), ...along.filter(({ waits }) => !waits)];
}

function byPhoto(joints: readonly RoundJoint[]): RoundJoint[] {
  return [...joints.filter(({ walk }) => walk), ...joints.filter(({ walk }) => !walk)].sort((a, b) => (a.walk && b.walk ? a.walk - b.walk : 0));
}

/** Whether a repair that waits is the worst of a joint: another spot may leak in this round. */
export function showsWaiting({ waits, state }: RoundJoint): boolean {
  return waits !== undefined && state !== 'open';
}

/** The joints that come next: the first that nobody looked at in this round. */
export function proposed(joints: readonly RoundJoint[], size: number): string[] {
  return joints
    .filter((joint) => joint.mark === 'blank' && !joint.retired)
    .slice(0, size)
    .map((joint) => joint.id);
}

/** The wetted joints: the chosen ones, or those proposed. */
export function wettedOf(group: Group, joints: readonly RoundJoint[]): string[] {
  return group.wetted ?? proposed(joints, group.size);
}

/** Joints to look at again go into the next group first; others fill it up to its size. */
export function againFirst(group: Group, joints: readonly RoundJoint[], again: readonly string[]): Group {
  const others = wettedOf(group, joints).filter((id) => !again.includes(id));
  const room = group.wetted === null ? Math.max(0, group.size - again.length) : others.length;
  return { ...group, wetted: ordered(joints, [...again, ...others.slice(0, room)]) };
}

/** A press on a row: in or out of the group, or, while the clock runs, bubbling or not. */
export function pressed(group: Group, joints: readonly RoundJoint[], id: string): Group {
  const wetted = wettedOf(group, joints);
  if (group.startedAt === null) return { ...group, wetted: ordered(joints, toggled(wetted, id)) };
  return wetted.includes(id) ? { ...group, bubbling: ordered(joints, toggled(group.bubbling, id)) } : group;
}

/** The clock starts; what was proposed is now wetted. */
export function started(group: Group, joints: readonly RoundJoint[], now: number): Group {
  const wetted = wettedOf(group, joints);
  const before = Object.fromEntries(wetted.map((id) => [id, lastLook(joints, id)]));
  return { ...group, wetted, startedAt: now, bubbling: [], size: Math.max(1, wetted.length), before };
}

/**
 * A kept group as it goes on after a reload or a kill. The draft is written a moment after the looks, so it may not know
 * of the last ones: what was saved meanwhile is wetted no more and waits no more, else it would be saved twice.
 */
export function resumed(group: Group, joints: readonly RoundJoint[]): Group {
  const same = (id: string, last: string | undefined) => last === undefined || last === lastLook(joints, id);
  const queue = group.queue.filter(({ joint, last }) => same(joint, last));
  const saved = group.startedAt === null ? [] : (group.wetted ?? []).filter((id) => !same(id, group.before?.[id]));
  return saved.reduce(without, { ...group, queue });
}

function lastLook(joints: readonly RoundJoint[], id: string): string {
  return joints.find((joint) => joint.id === id)?.lookId ?? '';
}

/** A joint leaves the running group: it was recorded by itself. */
export function without(group: Group, id: string): Group {
  const wetted = group.wetted?.filter((one) => one !== id) ?? null;
  const left = { ...group, wetted, bubbling: group.bubbling.filter((one) => one !== id) };
  return group.startedAt !== null && wetted?.length === 0 ? { ...idle(group.size), queue: group.queue } : left;
}

/** The group is over after so many seconds: what bubbles waits to be sized. */
export function finished(group: Group, seconds: number): Group {
  const { back, before = {} } = group;
  const leaks = group.bubbling.map((joint) => ({ joint, seconds, back, last: before[joint] }));
  return { ...idle(group.size), queue: [...group.queue, ...leaks] };
}

/** The joints of a group where nothing was seen. */
export function rest(group: Group): string[] {
  return (group.wetted ?? []).filter((id) => !group.bubbling.includes(id));
}

/** Where a look belongs. */
export interface Place {
  site: string;
  fixture: string;
  round: string;
}

/** The looks to write for the rest of a group: nothing seen, while the solution stayed on or ran off. */
export function nothingSeen(group: Group, seconds: number, stayed: boolean, place: Place): Draft[] {
  const { back } = group;
  return rest(group).map((joint) => lookAt(place, { joint, result: 'none', seconds, stayed, back }));
}

/** One look to write. */
export function lookAt(place: Place, look: Omit<Look, 'round'>): Draft {
  const { site, fixture, round } = place;
  return { kind: 'look-made', site, fixture, body: { round, ...look } };
}

function toggled(ids: readonly string[], id: string): string[] {
  return ids.includes(id) ? ids.filter((one) => one !== id) : [...ids, id];
}

function ordered(joints: readonly RoundJoint[], ids: readonly string[]): string[] {
  return joints.filter((joint) => ids.includes(joint.id)).map((joint) => joint.id);
}
