/** Joints while a person pins them in the fixture's photo: pure steps. */
import type { JointCard } from '../../engine/types';

/** The joint to pin next: the first after `last` that is not pinned, from the start again at the end; null when all are. */
export function nextUnpinned(joints: readonly JointCard[], last: string | null): string | null {
  const at = joints.findIndex(({ id }) => id === last) + 1;
  const left = [...joints.slice(at), ...joints.slice(0, at)].filter(({ id, pin }) => pin === undefined && id !== last);
  return left[0]?.id ?? null;
}

/** How many joints are pinned. */
export function pinnedOf(joints: readonly JointCard[]): number {
  return joints.filter(({ pin }) => pin !== undefined).length;
}
