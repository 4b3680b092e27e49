import { useLocation, useRoute } from 'preact-iso';
import { useAsk } from '../../engine/client';
import type { Round } from '../../engine/types';
import { Button, Caution, Field, Page, Says } from '../../ui';
import { listed, said, t } from '../../words';
import { Answered } from '../Answered';
import { FindingRow } from '../FindingRow';
import { AddNote, NoteList } from '../notes/Notes';
import '../fixture/fixture.css';
import { offerWithdrawal, useSaving } from '../save';
import { useDraft } from '../useDraft';
import './end.css';
import { Notices } from '../round/Notices';
import { Missed } from './Missed';
import { PutBack } from './PutBack';
import { UnseenBound } from './UnseenBound';
import { nameOf, timeOf } from '../stamp';

/** What is checked off before a round ends. */
interface Ending {
  putBack: string[];
  note: string;
}

/** /r/:id/end: what the round found, what it did not see, what must be put back; later its record. */
export function RoundEnd() {
  const id = useRoute().params.id ?? '';
  const asked = useAsk('round', { id });
  return (
    <Answered asked={asked} back={`/r/${id}`}>
      {(round) => (round.ended === undefined ? <Open round={round} /> : <Over round={round} />)}
    </Answered>
  );
}

function Open({ round }: { round: Round }) {
  const { route } = useLocation();
  const { problem, save } = useSaving();
  const draft = useDraft<Ending>(`end:${round.id}`, () => ({ putBack: [], note: '' }));
  if (draft.value === null) return <Page title={t('end.title')} back={`/r/${round.id}`}>{null}</Page>;
  const ending = draft.value;
  const left = round.putBack.filter((code) => !ending.putBack.includes(code)).length;
  const note = ending.note.trim();
  const end = async () => {
    const body = note === '' ? { putBack: ending.putBack } : { putBack: ending.putBack, note };
    const written = await save([{ kind: 'round-ended', site: round.site, fixture: round.fixture, of: round.id, body }]);
    if (written === null) return;
    draft.clear();
    offerWithdrawal(t('end.saved'), round.site, written, () => route(`/r/${round.id}/end`));
    route(`/f/${round.fixture}`);
  };
  const act = (
    <Button kind="main" disabled={round.left !== undefined && note === ''} onPress={() => void end()}>
      {actWords(round, left, note)}
    </Button>
  );
  return (
    <Page title={t('end.title')} back={`/r/${round.id}`} act={act}>
      {problem !== null && <p class="wrong" role="alert">{problem}</p>}
      <What round={round} />
      {round.done < round.joints.length && (
        <Button kind="quiet" href={`/r/${round.id}`}>
          {t('end.more')}
        </Button>
      )}
      <section class="end-part">
        <PutBack codes={round.putBack} done={ending.putBack} onDone={(putBack) => draft.set({ ...ending, putBack })} />
        {(left > 0 || round.left) && (
          <Field label={t(round.left ? 'end.noteLeft' : 'end.note')} type="textarea" value={ending.note} onInput={(note) => draft.set({ ...ending, note })} />
        )}
        <Caution codes={['end']} />
      </section>
    </Page>
  );
}

/** What the end's button says: what is missing, what is left undone, or just the end. */
function actWords(round: Round, left: number, note: string): string {
  if (round.left && note === '') return t('end.needReason');
  if (round.done === 0) return t('end.giveUp');
  return left === 0 ? t('end.act') : t('end.actLeft', { n: left });
}

function Over({ round }: { round: Round }) {
  const missing = round.putBack.filter((code) => !round.putBackDone.includes(code));
  const act = (
    <Button kind="main" href={`/f/${round.fixture}`}>
      {t('end.toFixture')}
    </Button>
  );
  return (
    <Page title={t('end.over', { time: timeOf(round.started) })} back={`/f/${round.fixture}`} act={act}>
      <What round={round} />
      <section class="end-part">
        {round.left && <p class="strong">{t('end.wasLeft', { time: timeOf(round.left) })}</p>}
        {round.ended && <p>{t('end.ended', { time: timeOf(round.ended), person: nameOf(round.ended) })}</p>}
        {missing.length > 0 && <p>{t('end.notPut', { names: listed(missing.map((code) => said('putBack', code))) })}</p>}
        {round.endNote && <p>{t('end.said', { note: round.endNote })}</p>}
      </section>
    </Page>
  );
}

function What({ round }: { round: Round }) {
  return (
    <>
      <section class="lead">
        <Says says={round.says} lead />
        <p class="small soft">{round.fixtureName}</p>
        {round.ended === undefined && round.done === 0 && <p>{t('end.nothing')}</p>}
        <Notices round={round} />
      </section>
      <div class="columns">
        {round.findings.length > 0 && (
          <section>
            <h2>{t('end.found')}</h2>
            <ol>
              {round.findings.map((card) => (
                <li key={card.id}>
                  <FindingRow card={card} />
                </li>
              ))}
            </ol>
          </section>
        )}
        <Missed joints={round.joints} />
        <UnseenBound unseen={round.unseen} />
        <Notes round={round} />
      </div>
    </>
  );
}

function Notes({ round: { id, site, fixture, fixtureName, notes } }: { round: Round }) {
  return (
    <section aria-label={t('note.title')}>
      {notes.length > 0 && <h2>{t('note.title')}</h2>}
      <NoteList notes={notes} />
      <AddNote place={{ site, fixture, of: id }} title={t('note.of', { name: fixtureName })} />
    </section>
  );
}
