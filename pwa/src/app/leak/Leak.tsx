import { useRoute } from 'preact-iso';
import { useState } from 'preact/hooks';
import { useAsk } from '../../engine/client';
import type { Round, RoundJoint } from '../../engine/types';
import { Page } from '../../ui';
import { t } from '../../words';
import { Answered } from '../Answered';
import { After } from './After';
import { Correct } from './Correct';
import { Count } from './Count';
import './leak.css';

/** States in which a finding stands: it is shown, not counted anew. */
const standing = ['open', 'waiting', 'accepted', 'seen-again'];

/** /r/:id/leak/:joint: count and size a leak; once saved, what became of it. */
export function Leak() {
  const { id = '', joint = '' } = useRoute().params;
  const asked = useAsk('round', { id });
  return (
    <Answered asked={asked} back={`/r/${id}`}>
      {(round) => <OfJoint key={joint} round={round} joint={round.joints.find((one) => one.id === joint)} />}
    </Answered>
  );
}

function OfJoint({ round, joint }: { round: Round; joint: RoundJoint | undefined }) {
  const [correcting, setCorrecting] = useState(false);
  if (joint === undefined) {
    return (
      <Page title={t('fault.title')} back={`/r/${round.id}`}>
        <p>{t('page.missing')}</p>
      </Page>
    );
  }
  if (correcting) return <Correct round={round} joint={joint} onDone={() => setCorrecting(false)} />;
  if (joint.finding && standing.includes(joint.state ?? '')) {
    return <After round={round} joint={joint} finding={joint.finding} onCorrect={() => setCorrecting(true)} />;
  }
  return <Count round={round} joint={joint} />;
}
