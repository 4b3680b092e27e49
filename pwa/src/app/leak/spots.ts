/** Several spots of one joint, each a finding of its own. */
import type { Round, RoundJoint, SpotCard } from '../../engine/types';
import { placeName } from '../placeName';

/** States in which a finding stands: it is shown, not counted anew. */
const standing = ['open', 'waiting', 'accepted', 'seen-again'];

/** The finding to show: that of a named spot, or where none is named the joint's; undefined where a leak is to be counted. */
export function spotShown(joint: RoundJoint, named: string | undefined): SpotCard | undefined {
  const all = (joint.spots ?? []).filter(({ state }) => standing.includes(state));
  if (named !== undefined) return all.filter((spot) => (spot.named ?? '') === named).at(-1);
  return all.find(({ finding }) => finding === joint.finding);
}

/** A joint as one of its spots shows it. */
export function ofSpot(joint: RoundJoint, { finding, spot, mark, state, figure }: SpotCard): RoundJoint {
  const { figure: _, ...rest } = joint;
  return { ...rest, name: placeName(joint.name, spot), finding, mark, state, ...(figure && { figure }) };
}

/** Where one spot of a joint is counted or shown; '' is the first. */
export function spotPath(round: Round, joint: string, named: string): string {
  return `/r/${round.id}/leak/${joint}?spot=${encodeURIComponent(named)}`;
}
