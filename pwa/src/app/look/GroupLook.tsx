import { useLocation, useRoute } from 'preact-iso';
import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import { useAsk } from '../../engine/client';
import type { Round, RoundJoint } from '../../engine/types';
import { byKeys, Caution, Choice, Page, phrase } from '../../ui';
import { order, orders } from '../../ui/theme';
import { said, t } from '../../words';
import { Answered } from '../Answered';
import { RoundEnd } from '../end/RoundEnd';
import { Moved, Notices } from '../round/Notices';
import { TabWarning } from '../start/Tab';
import { oneFinger, steady } from '../steady';
import { useAwake } from '../useAwake';
import { GroupAct } from './GroupAct';
import { againFirst, type Group, inOrder, pressed, wettedOf } from './group';
import { JointRow } from './JointRow';
import './look.css';
import { RowSheet } from './RowSheet';
import { useGroup } from './useGroup';

/** /r/:id: the joints in the order that this device's person chose, looked at in groups under one clock. */
export function GroupLook() {
  const id = useRoute().params.id ?? '';
  const { answer, fault } = useAsk('round', { id });
  const round = useMemo(() => answer && { ...answer, joints: inOrder(answer.joints, order.value) }, [answer, order.value]);
  return (
    <Answered asked={{ answer: round, fault }}>
      {(round) => (round.ended === undefined ? <Running key={round.id} round={round} /> : <RoundEnd />)}
    </Answered>
  );
}

/** By place or by the photo; nothing where no joint is pinned. */
function OrderChoice({ round }: { round: Round }) {
  if (!round.joints.some(({ walk }) => walk)) return null;
  return (
    <Choice
      legend={t('look.order')}
      layout="even"
      slim
      options={orders.map((value) => ({ value, words: said('look.order', value) }))}
      value={order.value}
      onChoose={(value) => (order.value = value)}
    />
  );
}

function Running({ round }: { round: Round }) {
  const { route } = useLocation();
  const group = useGroup(round);
  const through = useRef(steady());
  const finger = useRef(oneFinger());
  const [more, setMore] = useState<RoundJoint | null>(null);
  const running = group.value !== null && group.value.startedAt !== null;
  useAwake(running);
  useNextInView(group.value, round);
  if (group.value === null) return <Page title={round.fixtureName}>{null}</Page>;
  const state = group.value;
  const wetted = wettedOf(state, round.joints);
  const press = (joint: RoundJoint, at: number) => finger.current.counts() && through.current(at, () => pressRow(joint));
  const pressRow = (joint: RoundJoint) => {
    if (!running && joint.finding !== undefined && joint.finding !== '') route(`/r/${round.id}/leak/${joint.id}`);
    else group.set(pressed(state, round.joints, joint.id));
  };
  return (
    <Page title={round.fixtureName} back={`/f/${round.fixture}`} act={<GroupAct round={round} group={group} />}>
      {group.problem !== null && <p class="wrong" role="alert">{group.problem}</p>}
      {!running && round.done === 0 && <TabWarning />}
      {!running && <p>{round.says.slice(0, 1).map(phrase)}</p>}
      {!running && <Notices round={round} />}
      {!running && (
        <Moved round={round} chosen={state.wetted ?? []} onAgain={(again) => group.set(againFirst(state, round.joints, again))} />
      )}
      {!running && round.done === 0 && <Caution codes={['wetting']} />}
      {!running && <OrderChoice round={round} />}
      <ol class={running ? 'rows running' : 'rows'} onPointerDown={finger.current.down} onPointerUp={finger.current.up}>
        {round.joints.map((joint) => (
          <JointRow
            key={joint.id}
            joint={joint}
            lit={wetted.includes(joint.id)}
            bubbling={state.bubbling.includes(joint.id)}
            running={running}
            onPress={(at) => press(joint, at)}
            onMore={() => finger.current.counts() && setMore(joint)}
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

/** Brings the next group into view when it is proposed, and a group when its clock starts, so that no scrolling is needed. Keys go on in it, or at the act that starts it. */
function useNextInView(group: Group | null, round: Round) {
  const running = group !== null && group.startedAt !== null;
  const asked = round.joints.some(({ moved }) => moved); // what is asked above the rows stays in view
  const proposing = !asked && group !== null && !running && group.wetted === null && round.done > 0;
  const first = running || proposing ? wettedOf(group, round.joints)[0] : undefined;
  useEffect(() => {
    const row = first === undefined ? null : document.getElementById(`row-${first}`);
    if (row === null) return;
    row.scrollIntoView({ block: 'start' });
    const next = running ? row.querySelector('button') : document.querySelector<HTMLElement>('footer.act');
    if (byKeys()) next?.focus({ preventScroll: true });
  }, [first, running]);
}
