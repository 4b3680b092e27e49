import { useLocation } from 'preact-iso';
import type { Result, Round } from '../../engine/types';
import { t } from '../../words';
import { secondsSince } from '../useClock';
import { useDraft } from '../useDraft';
import { offerWithdrawal, useSaving } from '../save';
import { finished, type Group, idle, lookAt, nothingSeen, rest, resumed, started, without } from './group';

/** The group of a round and what can be done with it. */
export interface GroupUse {
  /** Null until the draft was looked for. */
  value: Group | null;
  set: (group: Group) => void;
  /** What went wrong at the last write, in words. */
  problem: string | null;
  start: () => void;
  /** Saves the rest as nothing seen in one write; then the leaks are sized. */
  finish: () => Promise<void>;
  /** Stops the clock, saves nothing; the joints stay chosen. */
  stop: () => void;
  /** Records one joint by itself. */
  record: (joint: string, result: Result, why?: string) => Promise<void>;
}

/** Where a round's group is kept. */
export function groupKey(round: string): string {
  return `group:${round}`;
}

/** The group of a round, kept so that its clock goes on after a reload. */
export function useGroup(round: Round): GroupUse {
  const { route } = useLocation();
  const { value, set } = useDraft<Group>(groupKey(round.id), () => idle(), (kept) => resumed(kept, round.joints));
  const { problem, save } = useSaving();
  const place = { site: round.site, fixture: round.fixture, round: round.id };
  const group = value ?? idle();

  const finish = async () => {
    const seconds = secondsSince(group.startedAt, Date.now());
    const tight = rest(group).length;
    const written = tight === 0 ? [] : await save(nothingSeen(group, seconds, place));
    if (written === null) return;
    const next = finished(group, seconds);
    set(next);
    if (tight > 0) offerWithdrawal(t('look.savedNone', { n: tight }), round.site, written);
    const leak = next.queue[0];
    if (leak !== undefined) route(`/r/${round.id}/leak/${leak.joint}`);
  };

  const record = async (joint: string, result: Result, why?: string) => {
    const { stayed, back } = group;
    const look = { joint, result, stayed, back: result !== 'partly' && back, seconds: secondsSince(group.startedAt, Date.now()) };
    const written = await save([lookAt(place, why === undefined ? look : { ...look, why })]);
    if (written === null) return;
    set(without(group, joint));
    offerWithdrawal(t('look.saved'), round.site, written);
    if (result === 'gross') route(`/r/${round.id}/leak/${joint}`);
  };

  return {
    value,
    set,
    problem,
    start: () => set(started(group, round.joints, Date.now())),
    finish,
    stop: () => set({ ...group, startedAt: null, bubbling: [] }),
    record,
  };
}
