import { useEffect, useState } from 'preact/hooks';
import type { Round, Watch } from '../../engine/types';
import { Button } from '../../ui';
import { t } from '../../words';
import { type Group, rest, wettedOf } from './group';
import { Showing } from './Showing';
import type { GroupUse } from './useGroup';
import { useWatch } from './useWatch';

interface Props {
  round: Round;
  group: GroupUse;
}

/** What stands at the thumb: start the group, or end it. */
export function GroupAct({ round, group }: Props) {
  const state = group.value;
  if (state === null) return null;
  if (state.startedAt !== null) return <Watching round={round} state={state} group={group} />;
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

function Watching({ round, state, group }: Props & { state: Group }) {
  const counted = useLater(state);
  return <Watched state={state} counted={counted} watch={useWatch(round.id, counted)} group={group} />;
}

interface WatchedProps {
  state: Group;
  /** The group as it was counted last: a moment behind the row that was pressed. */
  counted: Group;
  watch: Watch | null;
  group: GroupUse;
}

/** The running clock, what the look shows by it, and its end. */
export function Watched({ state, counted, watch, group }: WatchedProps) {
  const tight = rest(counted).length;
  const leaks = counted.bubbling.length;
  return (
    <>
      <Showing since={state.startedAt} watch={tight > 0 ? watch : null} />
      <div class="watch-how">
        <Switch on={state.back} words={t('look.around')} onPress={() => group.set({ ...state, back: !state.back })} />
        <Button kind="plain" onPress={group.stop}>
          {t('look.stop')}
        </Button>
      </div>
      <div class="beside ending">
        {tight > 0 && (
          <Button kind="quiet" onPress={(at) => void group.finish(false, at)}>
            {t('look.ranOff')}
          </Button>
        )}
        <Button kind="main" onPress={(at) => void group.finish(true, at)}>
          {ending(tight, leaks)}
        </Button>
      </div>
    </>
  );
}

function ending(tight: number, bubbling: number): string {
  if (bubbling === 0) return t('look.allNone', { n: tight });
  return tight === 0 ? t('look.size', { n: bubbling }) : t('look.restNone', { n: bubbling });
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

const pause = 120; // ms that the thumb rests before all is counted anew: the row that it pressed is drawn first. Judgement

/** A value as it stood a moment ago. */
function useLater<Value>(value: Value): Value {
  const [late, setLate] = useState(value);
  useEffect(() => {
    const soon = setTimeout(() => setLate(() => value), pause);
    return () => clearTimeout(soon);
  }, [value]);
  return late;
}
