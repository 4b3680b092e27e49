import { useLocation } from 'preact-iso';
import { useLayoutEffect, useRef } from 'preact/hooks';
import type { Look, Result, Round, RoundJoint } from '../../engine/types';
import { passOffer } from '../../ui';
import { momentOf } from '../../ui/moment';
import { t } from '../../words';
import { ghost } from '../steady';
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
  /** Wetted: the clock starts with the press, whose time its event told. */
  start: (at: number) => void;
  /** Saves the rest as nothing seen, with whether the solution stayed on, in one write; then the leaks are sized. */
  finish: (stayed: boolean, at: number) => Promise<void>;
  /** Stops the clock, saves nothing; the joints stay chosen. */
  stop: () => void;
  /** Records one joint by itself. */
  record: (joint: string, result: Result, more?: Partial<Look>) => Promise<void>;
}

const late = 1000; // ms from a save until the next group is proposed from what is known

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

  const newer = useNewer(round.joints);
  const newest = useRef(group);
  newest.current = group;
  const ending = useRef(false);

  const finish = async (stayed: boolean, at: number) => {
    if (ending.current) return;
    ending.current = true;
    await end(stayed, momentOf(at)).finally(() => (ending.current = false));
  };

  const end = async (stayed: boolean, moment: number) => {
    if (moment - (group.startedAt ?? 0) < ghost) return; // the ghost of the press that started the clock: the button stands where that one stood
    const seconds = secondsSince(group.startedAt, moment);
    const tight = rest(group).length;
    const told = newer();
    const written = tight === 0 ? [] : await save(nothingSeen(group, seconds, stayed, place));
    if (written === null) return;
    if (tight > 0) {
      offerWithdrawal(t(stayed ? 'look.savedNone' : 'look.savedRanOff', { n: tight }), round.site, written);
      await Promise.race([told, new Promise((go) => setTimeout(go, late))]); // else those just looked at would be proposed again
    }
    const next = finished(newest.current, seconds); // with what was pressed meanwhile: it is sized, though it was saved as nothing seen
    set(next);
    const leak = next.queue[0];
    if (leak !== undefined) route(`/r/${round.id}/leak/${leak.joint}`);
  };

  const record = async (joint: string, result: Result, more: Partial<Look> = {}) => {
    const seconds = secondsSince(group.startedAt, Date.now());
    const written = await save([lookAt(place, { joint, result, seconds, stayed: true, back: group.back, ...more })]);
    if (written === null) return;
    set(without(group, joint));
    offerWithdrawal(t('look.saved'), round.site, written);
    if (result === 'gross') route(`/r/${round.id}/leak/${joint}`);
  };

  return {
    value,
    set,
    problem,
    start: (at) => {
      passOffer();
      set(started(group, round.joints, momentOf(at)));
    },
    finish,
    stop: () => set({ ...group, startedAt: null, bubbling: [] }),
    record,
  };
}

/** Gives a promise of newer joints than those that stand here. */
function useNewer(joints: readonly RoundJoint[]): () => Promise<void> {
  const waiting = useRef<(() => void)[]>([]);
  useLayoutEffect(() => {
    for (const go of waiting.current.splice(0)) go();
  }, [joints]);
  return () => new Promise((go) => waiting.current.push(go));
}
