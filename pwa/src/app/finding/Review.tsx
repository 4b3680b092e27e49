import { useState } from 'preact/hooks';
import type { Finding } from '../../engine/types';
import { Button, Field, Sheet } from '../../ui';
import { t } from '../../words';
import { offerWithdrawal, useSaving } from '../save';

/** The engineer's answer: accept it, or have it looked at again, with a note. */
export function Review({ finding }: { finding: Finding }) {
  const [asking, setAsking] = useState(false);
  const [note, setNote] = useState('');
  const { problem, save } = useSaving();
  const answer = async (verdict: 'accept' | 'look-again') => {
    const { card, site } = finding;
    const written = await save([
      { kind: 'finding-reviewed', site, fixture: card.fixture, of: card.id, body: { verdict, note: note.trim() } },
    ]);
    if (written === null) return;
    offerWithdrawal(t(`finding.reviewed-${verdict}`), site, written);
    setAsking(false);
    setNote('');
  };
  return (
    <>
      {problem !== null && <p class="wrong" role="alert">{problem}</p>}
      <div class="review">
        <Button onPress={() => setAsking(true)}>{t('finding.again')}</Button>
        <Button kind="main" onPress={() => void answer('accept')}>
          {t('finding.accept')}
        </Button>
      </div>
      {asking && (
        <Sheet title={t('finding.again')} onClose={() => setAsking(false)}>
          <Field label={t('finding.answer-note')} type="textarea" value={note} onInput={setNote} />
          <Button kind="main" disabled={note.trim() === ''} onPress={() => void answer('look-again')}>
            {t('finding.answer-send')}
          </Button>
        </Sheet>
      )}
    </>
  );
}
