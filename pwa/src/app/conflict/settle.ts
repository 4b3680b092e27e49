/** Settling a conflict: the edit that has seen every side. */
import { ask, type Draft } from '../../engine/client';
import type { ConflictCard, ConflictSide, JointCard, Observation, Program } from '../../engine/types';
import { seenOf } from '../desk/edit/change';
import { sizedUp } from '../leak/Count';

/** The edit by which one side of a conflict stands from now on. */
export function settling(card: ConflictCard, side: ConflictSide): Draft {
  const { site, fixture, of, base, seen } = card;
  const place = { site, fixture, base };
  const body = { [card.field]: side.value, seen };
  switch (card.noun) {
    case 'program':
      return { kind: 'program-set', ...place, body: { ...(side.value as Program), seen } };
    case 'joint':
      return { kind: 'joint-edited', ...place, of, body };
    case 'look':
      return { kind: 'look-amended', ...place, of, body };
    default:
      if (card.field === 'site') return { kind: 'fixture-moved', ...place, of, body: { site: String(side.value), seen } };
      return { kind: 'fixture-edited', ...place, of, body };
  }
}

/** The same, with the figure that an observation gives now: what stands on the screen is kept with it. */
export async function settlingWhole(card: ConflictCard, side: ConflictSide): Promise<Draft> {
  const draft = settling(card, side);
  if (draft.kind !== 'look-amended' || card.field !== 'observation') return draft;
  const { card: finding } = await ask('finding', { id: card.of });
  const { shown } = await sizedUp(finding.round, finding.joint, side.value as Observation);
  return shown === undefined ? draft : { ...draft, body: { ...draft.body, shown } };
}

/** The edit that gives one of several joints of a name the name that is free. */
export function renaming({ site, fixture, free = '' }: ConflictCard, joint: JointCard): Draft {
  return { kind: 'joint-edited', site, fixture, of: joint.id, base: joint.event, body: { name: free, ...seenOf(joint) } };
}

/** Retires one of several joints of a name. */
export function retiring({ site, fixture }: ConflictCard, joint: JointCard, why: string): Draft {
  return { kind: 'joint-retired', site, fixture, of: joint.id, base: joint.event, body: { why } };
}
