import { useLocation } from 'preact-iso';
import type { ComponentChildren } from 'preact';
import type { Draft } from '../../engine/client';
import type { Result, Round, RoundJoint } from '../../engine/types';
import { Button } from '../../ui';
import { t } from '../../words';
import { lookAt } from '../look/group';
import { offerWithdrawal, useSaving } from '../save';
import { secondsSince } from '../useClock';
import type { Kept } from '../useDraft';
import { begunMend, mendAct, type MendDraft } from './mending';

interface Of {
  round: Round;
  joint: RoundJoint;
  finding: string;
  draft: Kept<MendDraft>;
  /** Where to go once the second look is saved. */
  onward: string;
}

/** What can be done with a repair on the spot. */
export interface Mending {
  /** What stands at the thumb. */
  act: ComponentChildren;
  /** The second look still leaks. */
  still: () => void;
  /** What went wrong at the last save, in words. */
  problem: string | null;
}

/** Saves the repair as its second look begins, and the second look as it ends. */
export function useMending({ round, joint, finding, draft, onward }: Of): Mending {
  const { route } = useLocation();
  const { problem, save } = useSaving();
  const value = draft.value ?? begunMend();

  const mended = async () => {
    const { vented, cause, action } = value;
    const body = { when: 'on-spot', vented, cause: cause ?? 'unknown', action: action ?? 'other' };
    const event: Draft = { kind: 'finding-mended', site: round.site, fixture: round.fixture, of: finding, body };
    const written = await save([event]);
    if (written === null) return;
    draft.set({ ...value, secondAt: Date.now() });
    offerWithdrawal(t('after.savedMend'), round.site, written, draft.clear);
  };

  const second = async (result: Result) => {
    const place = { site: round.site, fixture: round.fixture, round: round.id };
    const seconds = secondsSince(value.secondAt, Date.now());
    const look = { joint: joint.id, result, seconds, stayed: true, back: true, second: finding };
    const written = await save([lookAt(place, look)]);
    if (written === null) return;
    draft.clear();
    offerWithdrawal(t('after.savedSecond'), round.site, written);
    route(onward);
  };

  return { act: <Act draft={value} onMended={mended} onNothing={() => second('none')} />, still: () => void second('leaks'), problem };
}

interface ActProps {
  draft: MendDraft;
  onMended: () => Promise<void>;
  onNothing: () => Promise<void>;
}

function Act({ draft, onMended, onNothing }: ActProps) {
  const next = mendAct(draft);
  if (next === 'seen') {
    return (
      <Button kind="main" onPress={() => void onNothing()}>
        {t('after.nothing')}
      </Button>
    );
  }
  return (
    <Button kind="main" disabled={next !== 'second'} onPress={() => void onMended()}>
      {t(next === 'cause' ? 'after.needCause' : next === 'action' ? 'after.needAction' : 'after.second')}
    </Button>
  );
}
