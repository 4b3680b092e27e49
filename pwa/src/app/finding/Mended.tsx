import { useState } from 'preact/hooks';
import type { Finding } from '../../engine/types';
import { Button, Sheet } from '../../ui';
import { t } from '../../words';
import { Repair, Waiting } from '../leak/Mend';
import '../leak/leak.css';
import { begunMend, mendAct, mendBody, type MendDraft, resumedMend } from '../leak/mending';
import { records } from '../duty';
import { offerWithdrawal, useSaving } from '../save';
import { useDraft } from '../useDraft';

/** What of a finding's repair can be said away from its round: that it was mended later, or that it waits. */
export function Mended({ finding }: { finding: Finding }) {
  const [open, setOpen] = useState(false);
  const { card, site } = finding;
  if (card.state === 'waiting') {
    return (
      <section class="finding-part">
        <Waiting obstacle={card.obstacle} />
        <Button kind="quiet" href={`/f/${card.fixture}`}>
          {t('mend.toRound')}
        </Button>
      </section>
    );
  }
  if ((card.state !== 'open' && card.state !== 'accepted') || !records(site)) return null;
  return (
    <>
      <Button kind="quiet" onPress={() => setOpen(true)}>
        {t('mend.record')}
      </Button>
      {open && <MendLater finding={finding} onClose={() => setOpen(false)} />}
    </>
  );
}

/** A repair that was made since, to be looked at in a round. */
export function MendLater({ finding, onClose }: { finding: Finding; onClose: () => void }) {
  const { card, site } = finding;
  const draft = useDraft<MendDraft>(`mend:${card.id}`, begunMend, resumedMend);
  const { problem, save } = useSaving();
  const value = draft.value ?? begunMend();
  const go = async () => {
    const body = mendBody(value, 'later');
    const written = await save([{ kind: 'finding-mended', site, fixture: card.fixture, of: card.id, body }]);
    if (written === null) return;
    draft.clear();
    offerWithdrawal(t('mend.savedLater'), site, written);
    onClose();
  };
  return (
    <Sheet title={t('mend.record')} onClose={onClose}>
      <div class="mend">
        <Repair draft={value} onDraft={draft.set} spares={finding.spares ?? []} />
      </div>
      {problem !== null && <p class="wrong" role="alert">{problem}</p>}
      <Button kind="main" disabled={mendAct(value, false) !== 'second'} onPress={() => void go()}>
        {t('mend.save')}
      </Button>
    </Sheet>
  );
}
