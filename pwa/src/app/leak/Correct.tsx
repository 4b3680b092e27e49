import { useState } from 'preact/hooks';
import { useAsk } from '../../engine/client';
import type { Finding, Observation, Round, RoundJoint } from '../../engine/types';
import { Page } from '../../ui';
import { t } from '../../words';
import { Answered } from '../Answered';
import { seenOf } from '../desk/edit/change';
import { offerWithdrawal, useSaving } from '../save';
import { useDraft } from '../useDraft';
import { sizedUp } from './Count';
import { Counting } from './Counting';
import { begun, type LeakDraft, reopened, resumed, tried } from './observation';

interface Props {
  round: Round;
  joint: RoundJoint;
  onDone: () => void;
}

/** A saved leak counted or sized anew: an amendment; what stood before stays on record. */
export function Correct(props: Props) {
  const asked = useAsk('finding', { id: props.joint.finding ?? '' });
  return (
    <Answered asked={asked} back={`/r/${props.round.id}`}>
      {(finding) => <Amend {...props} finding={finding} />}
    </Answered>
  );
}

function Amend({ round, joint, finding, onDone }: Props & { finding: Finding }) {
  const seen = finding.observation;
  const begin = () => (seen ? reopened(seen, finding) : begun(round.conditions.solution, 'window'));
  const draft = useDraft<LeakDraft>(`correct:${finding.card.id}`, begin, resumed);
  const [from] = useState(finding); // as it stood when correcting began
  const { problem, save } = useSaving();
  const keep = async (observation: Observation) => {
    const body = { ...(await sizedUp(round.id, joint.id, observation)), ...(draft.value && tried(draft.value)), ...seenOf(from) };
    const about = { site: round.site, fixture: round.fixture, of: finding.card.id, base: from.eventId };
    const written = await save([{ kind: 'look-amended', ...about, body }]);
    if (written === null) return;
    draft.clear();
    offerWithdrawal(t('look.saved'), round.site, written);
    onDone();
  };
  if (draft.value === null) return <Page title={joint.name} back={`/r/${round.id}`}>{null}</Page>;
  return (
    <Counting
      round={round}
      joint={joint}
      draft={draft.value}
      onDraft={draft.set}
      problem={problem}
      saveWords={t('leak.saveCorrection')}
      onSave={keep}
    />
  );
}
