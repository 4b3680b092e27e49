import { useLayoutEffect } from 'preact/hooks';
import { useAsk } from '../../engine/client';
import type { Round, RoundJoint } from '../../engine/types';
import { Button, Mark, Page } from '../../ui';
import { said, t } from '../../words';
import { type Group, resumed } from '../look/group';
import { groupKey } from '../look/useGroup';
import { useDraft } from '../useDraft';
import { EstimateMore, EstimateView } from './EstimateView';
import { Mend } from './Mend';
import { begunMend, mendAct, type MendDraft, resumedMend } from './mending';
import { Spots } from './Spots';
import { useMending } from './useMending';

interface Props {
  round: Round;
  joint: RoundJoint;
  finding: string;
  onCorrect: () => void;
}

/** A saved leak: its figure, mending it on the spot, and on to the next. */
export function After({ round, joint, finding, onCorrect }: Props) {
  const { answer } = useAsk('finding', { id: finding });
  useLayoutEffect(() => scrollTo(0, 0), []); // it takes the place of the count, which may have been scrolled
  const draft = useDraft<MendDraft>(`mend:${finding}`, begunMend, resumedMend);
  const group = useDraft<Group | null>(groupKey(round.id), () => null, (kept) => kept && resumed(kept, round.joints));
  const next = group.value?.queue.find((one) => one.joint !== joint.id)?.joint;
  const onward = next === undefined ? `/r/${round.id}` : `/r/${round.id}/leak/${next}`;
  const waiting = stateOf(joint, finding) === 'waiting';
  const mending = useMending({ round, joint, finding, draft, waiting, onward });
  const name = round.joints.find((one) => one.id === next)?.name;
  const value = draft.value ?? begunMend();
  const act = mendAct(value, waiting) === 'none' ? <Onward href={onward} name={name} /> : mending.act;
  return (
    <Page title={joint.name} back={`/r/${round.id}`} act={act}>
      {mending.problem !== null && <p class="wrong" role="alert">{mending.problem}</p>}
      <section class="leak">
        <Mark mark={joint.mark} word={stateWords(joint)} />
        {answer && answer.estimate.figure && !value.vented && !waiting && <EstimateView estimate={answer.estimate} low />}
      </section>
      <Mend
        draft={value}
        onDraft={draft.set}
        onLater={mending.later}
        waiting={waiting}
        spares={answer?.spares ?? []}
        obstacle={answer?.card.obstacle}
      />
      {!value.vented && value.secondAt === null && (
        <section class="leak">
          {answer && <EstimateMore estimate={answer.estimate} />}
          {answer?.observation && (
            <Button kind="quiet" onPress={onCorrect}>
              {t('after.correct')}
            </Button>
          )}
          <Button kind="quiet" href={`/finding/${finding}`}>
            {t('after.story')}
          </Button>
          <Spots round={round} joint={joint} finding={finding} />
        </section>
      )}
    </Page>
  );
}

/** What became of a finding: of this spot, where the joint has several. */
function stateOf({ spots, state }: RoundJoint, finding: string): string | undefined {
  return spots?.find((spot) => spot.finding === finding)?.state ?? state;
}

/** The state, and for a leak without a figure what was seen. */
function stateWords({ mark, state = 'open', figure }: RoundJoint): string {
  if (figure) return said('state', state);
  return t('leak.notSized', { mark: said('mark', mark), state: said('state', state) });
}

function Onward({ href, name }: { href: string; name: string | undefined }) {
  return (
    <Button kind="main" href={href}>
      {name === undefined ? t('after.joints') : t('after.next', { joint: name })}
    </Button>
  );
}
