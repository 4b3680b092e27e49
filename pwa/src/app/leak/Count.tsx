import { ask } from '../../engine/client';
import type { Observation, Round, RoundJoint } from '../../engine/types';
import { Page } from '../../ui';
import { t } from '../../words';
import { type Group, lookAt, type Queued, resumed, without } from '../look/group';
import { groupKey } from '../look/useGroup';
import { offerWithdrawal, useSaving } from '../save';
import { secondsSince } from '../useClock';
import { type Kept, useDraft } from '../useDraft';
import { Counting } from './Counting';
import { begun, type LeakDraft, resultOf, resumed as reloaded, tried } from './observation';
import { rememberHow, usualHow } from './usual';

/** A new leak at a joint: counted, sized, saved. */
export function Count({ round, joint, spot }: { round: Round; joint: RoundJoint; spot: string }) {
  const key = `leak:${round.id}:${joint.id}${spot && `:${spot}`}`;
  const draft = useDraft<LeakDraft>(key, () => begun(round.conditions.solution, usualHow()), reloaded);
  const group = useDraft<Group | null>(groupKey(round.id), () => null, (kept) => kept && resumed(kept, round.joints));
  const { problem, save } = useSaving();
  const place = { site: round.site, fixture: round.fixture, round: round.id };

  const keep = async (observation: Observation | null) => {
    const watch = watched(group.value, joint.id);
    const seen = observation === null ? { result: 'gross' as const } : await sizedUp(round.id, joint.id, observation);
    const also = { ...(draft.value && tried(draft.value)), ...(spot && { spot }) };
    const written = await save([lookAt(place, { joint: joint.id, stayed: true, ...watch, ...seen, ...also })]);
    if (written === null) return;
    if (draft.value !== null) rememberHow(draft.value.how);
    draft.clear();
    leave(group, joint.id);
    offerWithdrawal(t(observation === null ? 'leak.savedGross' : 'leak.saved'), round.site, written);
  };

  if (draft.value === null) return <Page title={joint.name} back={`/r/${round.id}`}>{null}</Page>;
  return (
    <Counting
      round={round}
      joint={joint}
      draft={draft.value}
      onDraft={draft.set}
      problem={problem}
      saveWords={t('leak.save')}
      onSave={keep}
      onGross={() => keep(null)}
    />
  );
}

/** A leak's result with what stood on the screen when it was saved. */
export async function sizedUp(round: string, joint: string, observation: Observation) {
  const { shown } = await ask('estimate', { round, joint, observation });
  const result = resultOf(observation);
  return shown === undefined ? { result, observation } : { result, observation, shown };
}

/** How the joint was watched: as its group was, or as the running group is. */
function watched(group: Group | null, joint: string): Pick<Queued, 'seconds' | 'back'> {
  const queued = group?.queue.find((one) => one.joint === joint);
  if (queued !== undefined) return { seconds: queued.seconds, back: queued.back };
  return { seconds: secondsSince(group?.startedAt ?? null, Date.now()), back: group?.back ?? true };
}

/** The joint is sized: it waits no longer. */
function leave(group: Kept<Group | null>, joint: string): void {
  if (group.value === null) return;
  const left = without(group.value, joint);
  group.set({ ...left, queue: left.queue.filter((one) => one.joint !== joint) });
}
