import { useRoute } from 'preact-iso';
import { useState } from 'preact/hooks';
import { useAsk } from '../../engine/client';
import type { Round, RoundJoint } from '../../engine/types';
import { Page } from '../../ui';
import { t } from '../../words';
import { Answered } from '../Answered';
import { After } from './After';
import { Correct } from './Correct';
import { placeName } from '../placeName';
import { Count } from './Count';
import './leak.css';
import { ofSpot, spotShown } from './spots';

/** /r/:id/leak/:joint?spot=: count and size a leak, of one spot of the joint; once saved, what became of it. */
export function Leak() {
  const { params, query } = useRoute();
  const { id = '', joint = '' } = params;
  const asked = useAsk('round', { id });
  return (
    <Answered asked={asked} back={`/r/${id}`}>
      {(round) => <OfJoint key={`${joint} ${query.spot}`} round={round} joint={round.joints.find((one) => one.id === joint)} spot={query.spot} />}
    </Answered>
  );
}

interface Props {
  round: Round;
  joint: RoundJoint | undefined;
  /** The spot's name in the address, undefined where it names none. */
  spot: string | undefined;
}

function OfJoint({ round, joint, spot }: Props) {
  const [correcting, setCorrecting] = useState(false);
  if (joint === undefined) {
    return (
      <Page title={t('fault.title')} back={`/r/${round.id}`}>
        <p>{t('page.missing')}</p>
      </Page>
    );
  }
  const shown = spotShown(joint, spot);
  const seen = shown === undefined ? joint : ofSpot(joint, shown);
  if (correcting && shown) return <Correct round={round} joint={seen} onDone={() => setCorrecting(false)} />;
  if (shown) return <After round={round} joint={seen} finding={shown.finding} onCorrect={() => setCorrecting(true)} />;
  return <Count round={round} joint={spot ? { ...joint, name: placeName(joint.name, spot) } : joint} spot={spot ?? ''} />;
}
