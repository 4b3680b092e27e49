import { useState } from 'preact/hooks';
import { useAsk } from '../../engine/client';
import type { Finding, Observation } from '../../engine/types';
import { Button, Field, Figure, Sheet } from '../../ui';
import { said, t } from '../../words';
import { offerWithdrawal, useSaving } from '../save';
import { seenOf } from '../desk/edit/change';
import { AmendFields } from './AmendFields';
import { formOf, observationOf } from './observation';

interface Props {
  finding: Finding;
  observation: Observation;
  onClose: () => void;
}

/** Corrects what was seen; the first record stays in the story. The estimate stands there as it changes. */
export function Amend({ finding, observation, onClose }: Props) {
  const { card, site } = finding;
  const [form, setForm] = useState(formOf(observation));
  const [from] = useState(finding); // as it stood when the form was opened
  const [why, setWhy] = useState('');
  const { problem, save } = useSaving();
  const read = observationOf(form);
  const now = 'observation' in read ? read.observation : null;
  const { answer, fault } = useAsk('estimate', now && { round: card.round, joint: card.joint, observation: now });
  const waiting = answer === undefined && fault === undefined;
  const go = async () => {
    if (now === null) return;
    const body = { observation: now, why: why.trim(), ...seenOf(from), ...(answer?.shown && { shown: answer.shown }) };
    const written = await save([
      { kind: 'look-amended', site, fixture: card.fixture, of: card.id, base: from.eventId, body },
    ]);
    if (written === null) return;
    offerWithdrawal(t('amend.done'), site, written);
    onClose();
  };
  return (
    <Sheet title={t('amend.title')} onClose={onClose}>
      <p>{t('amend.lead')}</p>
      <AmendFields form={form} wrong={'wrong' in read ? read.wrong : {}} set={(change) => setForm({ ...form, ...change })} />
      {answer?.estimate.figure && <Figure figure={answer.estimate.figure} />}
      {answer?.estimate.cannotSay && <p>{said('cannot', answer.estimate.cannotSay)}</p>}
      <Field label={t('amend.why')} value={why} onInput={setWhy} />
      {problem !== null && <p class="wrong" role="alert">{problem}</p>}
      <Button kind="main" disabled={now === null || waiting || why.trim() === ''} onPress={() => void go()}>
        {t('save')}
      </Button>
    </Sheet>
  );
}
