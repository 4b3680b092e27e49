import { vocabulary } from '../../engine/types';
import { Button, Caution, Choice } from '../../ui';
import { said, t } from '../../words';
import { clock } from '../../words/when';
import { useClock } from '../useClock';
import { caused, type MendDraft } from './mending';

interface Props {
  draft: MendDraft;
  onDraft: (draft: MendDraft) => void;
  onStill: () => void;
  /** The repair is saved already: only the second look is left. */
  waiting: boolean;
}

/** Mended on the spot: vented, cause and action, then the second look under its own clock. */
export function Mend({ draft, onDraft, onStill, waiting }: Props) {
  if (draft.secondAt !== null) return <Second since={draft.secondAt} onStill={onStill} />;
  if (waiting && !draft.vented) return <Again onStart={() => onDraft({ ...draft, secondAt: Date.now() })} />;
  return (
    <section class="mend">
      <h2>{t('after.mend')}</h2>
      <Caution codes={['repair']} />
      {!draft.vented && (
        <Button onPress={() => onDraft({ ...draft, vented: true })}>{t('after.vented')}</Button>
      )}
      {draft.vented && <Causes draft={draft} onDraft={onDraft} />}
    </section>
  );
}

function Again({ onStart }: { onStart: () => void }) {
  return (
    <section class="mend">
      <h2>{t('after.secondTitle')}</h2>
      <Button onPress={onStart}>{t('after.second')}</Button>
    </section>
  );
}

function Causes({ draft, onDraft }: Pick<Props, 'draft' | 'onDraft'>) {
  return (
    <>
      <Choice
        legend={t('after.cause')}
        layout="two"
        slim
        options={vocabulary.causes.map((value) => ({ value, words: said('cause', value) }))}
        value={draft.cause}
        onChoose={(cause) => onDraft(caused(draft, cause))}
      />
      <Choice
        legend={t('after.action')}
        layout="two"
        slim
        options={vocabulary.actions.map((value) => ({ value, words: said('action', value) }))}
        value={draft.action}
        onChoose={(action) => onDraft({ ...draft, action })}
      />
    </>
  );
}

function Second({ since, onStill }: { since: number; onStill: () => void }) {
  const seconds = useClock(since);
  return (
    <section class="mend">
      <h2>{t('after.secondTitle')}</h2>
      <p class="stopwatch" role="timer">
        {clock(seconds)}
      </p>
      <Button onPress={onStill}>{t('after.still')}</Button>
    </section>
  );
}
