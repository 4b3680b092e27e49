import type { Round } from '../../engine/types';
import { Button } from '../../ui';
import { t } from '../../words';
import { clock } from '../../words/when';
import { useClock } from '../useClock';
import { type Group, rest, wettedOf } from './group';
import type { GroupUse } from './useGroup';

interface Props {
  round: Round;
  group: GroupUse;
}

/** What stands at the thumb: start the group, or end it. */
export function GroupAct({ round, group }: Props) {
  const state = group.value;
  if (state === null) return null;
  if (state.startedAt !== null) return <Watching state={state} group={group} />;
  const leak = state.queue[0];
  if (leak !== undefined) return <Queued round={round} joint={leak.joint} onLater={() => group.set({ ...state, queue: state.queue.slice(1) })} />;
  const wetted = wettedOf(state, round.joints).length;
  if (wetted > 0) {
    return (
      <Button kind="main" onPress={group.start}>
        {t('look.start', { n: wetted })}
      </Button>
    );
  }
  if (round.done === round.joints.length) {
    return (
      <Button kind="main" href={`/r/${round.id}/end`}>
        {t('look.toEnd')}
      </Button>
    );
  }
  return (
    <Button kind="main" disabled>
      {t('look.choose')}
    </Button>
  );
}

function Watching({ state, group }: { state: Group; group: GroupUse }) {
  const tight = rest(state).length;
  return (
    <>
      <div class="watch">
        <Clock since={state.startedAt} />
        <p class="small">{t('look.tapBubbling')}</p>
        <Button kind="plain" onPress={group.stop}>
          {t('look.stop')}
        </Button>
      </div>
      <div class="watch-how">
        <Switch on={state.stayed} words={t('look.stayed')} onPress={() => group.set({ ...state, stayed: !state.stayed })} />
        <Switch on={state.back} words={t('look.around')} onPress={() => group.set({ ...state, back: !state.back })} />
      </div>
      <Button kind="main" onPress={() => void group.finish()}>
        {ending(tight, state.bubbling.length)}
      </Button>
    </>
  );
}

function ending(tight: number, bubbling: number): string {
  if (bubbling === 0) return t('look.allNone', { n: tight });
  return tight === 0 ? t('look.size', { n: bubbling }) : t('look.restNone', { n: bubbling });
}

function Clock({ since }: { since: number | null }) {
  const seconds = useClock(since);
  return (
    <span class="clock" role="timer" aria-label={t('look.clock')}>
      {clock(seconds)}
    </span>
  );
}

function Switch({ on, words, onPress }: { on: boolean; words: string; onPress: () => void }) {
  return (
    <button type="button" class="switch" aria-pressed={on} onClick={onPress}>
      <svg viewBox="0 0 24 24" aria-hidden="true" focusable="false">
        <rect x="3" y="3" width="18" height="18" fill="none" stroke="currentColor" stroke-width="2.4" />
        {on && <path d="m7 12.5 4 4 7-9" fill="none" stroke="currentColor" stroke-width="3" />}
      </svg>
      {words}
    </button>
  );
}

function Queued({ round, joint, onLater }: { round: Round; joint: string; onLater: () => void }) {
  const name = round.joints.find((one) => one.id === joint)?.name ?? '';
  return (
    <div class="beside">
      <Button kind="quiet" onPress={onLater}>
        {t('look.later')}
      </Button>
      <Button kind="main" href={`/r/${round.id}/leak/${joint}`}>
        {t('look.sizeAt', { joint: name })}
      </Button>
    </div>
  );
}
