import { useLocation, useRoute } from 'preact-iso';
import { useEffect, useState } from 'preact/hooks';
import { useAsk } from '../../engine/client';
import type { Round, RoundJoint } from '../../engine/types';
import { Caution, Page, phrase } from '../../ui';
import { t } from '../../words';
import { Answered } from '../Answered';
import { RoundEnd } from '../end/RoundEnd';
import { TabWarning } from '../start/Tab';
import { useAwake } from '../useAwake';
import { GroupAct } from './GroupAct';
import { type Group, pressed, wettedOf } from './group';
import { JointRow } from './JointRow';
import './look.css';
import { RowSheet } from './RowSheet';
import { useGroup } from './useGroup';

/** /r/:id: the joints in place order, looked at in groups under one clock. */
export function GroupLook() {
  const id = useRoute().params.id ?? '';
  const asked = useAsk('round', { id });
  return (
    <Answered asked={asked}>
      {(round) => (round.ended === undefined ? <Running key={round.id} round={round} /> : <RoundEnd />)}
    </Answered>
  );
}

function Running({ round }: { round: Round }) {
  const { route } = useLocation();
  const group = useGroup(round);
  const [more, setMore] = useState<RoundJoint | null>(null);
  const running = group.value !== null && group.value.startedAt !== null;
  useAwake(running);
  useNextInView(group.value, round);
  if (group.value === null) return <Page title={round.fixtureName}>{null}</Page>;
  const state = group.value;
  const press = (joint: RoundJoint) => {
    if (!running && joint.finding !== undefined && joint.finding !== '') route(`/r/${round.id}/leak/${joint.id}`);
    else group.set(pressed(state, round.joints, joint.id));
  };
  return (
    <Page title={round.fixtureName} back={`/f/${round.fixture}`} act={<GroupAct round={round} group={group} />}>
      {group.problem !== null && <p class="wrong" role="alert">{group.problem}</p>}
      {!running && round.done === 0 && <TabWarning />}
      {!running && <p>{round.says.slice(0, 1).map(phrase)}</p>}
      {!running && round.done === 0 && <Caution codes={['wetting']} />}
      <ol class={running ? 'rows running' : 'rows'}>
        {round.joints.map((joint) => (
          <JointRow
            key={joint.id}
            joint={joint}
            lit={wettedOf(state, round.joints).includes(joint.id)}
            bubbling={state.bubbling.includes(joint.id)}
            running={running}
            onPress={() => press(joint)}
            onMore={() => setMore(joint)}
          />
        ))}
      </ol>
      {!running && round.done < round.joints.length && (
        <a class="button quiet" href={`/r/${round.id}/end`}>
          {t('look.toEnd')}
        </a>
      )}
      {more !== null && <RowSheet joint={more} round={round} group={group} onClose={() => setMore(null)} />}
    </Page>
  );
}

/** Brings the next group into view when it changes, so that no scrolling is needed. */
function useNextInView(group: Group | null, round: Round) {
  const proposing = group !== null && group.startedAt === null && group.wetted === null && round.done > 0;
  const first = proposing ? wettedOf(group, round.joints)[0] : undefined;
  useEffect(() => {
    if (first !== undefined) document.getElementById(`row-${first}`)?.scrollIntoView({ block: 'start' });
  }, [first]);
}
