import { useRef, useState } from 'preact/hooks';
import { vocabulary } from '../../engine/types';
import { Button, Caution, Choice, Field } from '../../ui';
import { said, t } from '../../words';
import { clock } from '../../words/when';
import { useSeconds } from '../useClock';
import { asksSpare, caused, looking, mendAct, type MendDraft } from './mending';

interface Props {
  draft: MendDraft;
  onDraft: (draft: MendDraft) => void;
  /** Saves the repair without a second look. */
  onLater: () => void;
  /** The repair is saved already: only the second look is left. */
  waiting: boolean;
  /** Spare parts to propose. */
  spares: readonly string[];
  /** Why the last second look did not close it. */
  obstacle: string | undefined;
}

/** Mended: vented, cause and action, then the second look under its own clock, at once or later. */
export function Mend({ draft, onDraft, onLater, waiting, spares, obstacle }: Props) {
  if (draft.secondAt !== null) return <Second draft={draft} since={draft.secondAt} onDraft={onDraft} />;
  if (waiting) return <Waiting obstacle={obstacle} />;
  const ready = mendAct(draft, false) === 'second';
  return (
    <section class="mend">
      <h2>{t('after.mend')}</h2>
      <Repair draft={draft} onDraft={onDraft} spares={spares} />
      {ready && (
        <>
          <Button kind="quiet" onPress={onLater}>
            {t('mend.later')}
          </Button>
          <p>{t('mend.order')}</p>
          <Caution codes={['second']} />
        </>
      )}
    </section>
  );
}

/** What a repair says of itself, in the order in which it is done. */
export function Repair({ draft, onDraft, spares }: Pick<Props, 'draft' | 'onDraft' | 'spares'>) {
  return (
    <>
      <Caution codes={['repair']} />
      {!draft.vented && <Button onPress={() => onDraft({ ...draft, vented: true })}>{t('after.vented')}</Button>}
      {draft.vented && <Causes draft={draft} onDraft={onDraft} />}
      {draft.vented && asksSpare(draft) && <Spare draft={draft} onDraft={onDraft} spares={spares} />}
    </>
  );
}

/** A repair that waits, and why its last second look did not close it. */
export function Waiting({ obstacle }: { obstacle: string | undefined }) {
  return (
    <section class="mend">
      <h2>{t('after.secondTitle')}</h2>
      {obstacle && <p class="strong">{t('mend.lastLook', { why: said('obstacle', obstacle) })}</p>}
      <p>{t('mend.order')}</p>
      <Caution codes={['second']} />
    </section>
  );
}

/** The cause, then what was done. */
function Causes({ draft, onDraft }: Pick<Props, 'draft' | 'onDraft'>) {
  return (
    <div class="said">
      <OneOf legend={t('after.cause')} family="cause" codes={vocabulary.causes} value={draft.cause} onChoose={(cause) => onDraft(caused(draft, cause))} />
      {draft.cause !== null && (
        <OneOf legend={t('after.action')} family="action" codes={vocabulary.actions} value={draft.action} onChoose={(action) => onDraft({ ...draft, action })} />
      )}
    </div>
  );
}

interface OneOfProps {
  legend: string;
  family: string;
  codes: readonly string[];
  value: string | null;
  onChoose: (value: string) => void;
}

/** A choice that makes room for the next once it is made: what was chosen stands there, and opens it again. */
function OneOf({ legend, family, codes, value, onChoose }: OneOfProps) {
  const [open, setOpen] = useState(false);
  const here = useRef(false); // chosen on this screen: the focus stays with it
  const choose = (next: string) => {
    here.current = true;
    setOpen(false);
    onChoose(next);
  };
  if (value !== null && !open) {
    return (
      <button type="button" class="number-field" ref={here.current ? focused : null} onClick={() => setOpen(true)}>
        <span class="small soft">{legend}</span>
        <span class="strong">{said(family, value)}</span>
      </button>
    );
  }
  return <Choice legend={legend} layout="two" slim options={codes.map((code) => ({ value: code, words: said(family, code) }))} value={value} onChoose={choose} />;
}

function focused(button: HTMLButtonElement | null): void {
  button?.focus({ preventScroll: true });
}

/** How many spare parts are proposed: as many as a thumb finds at a glance. Judgement. */
const proposed = 4;

function Spare({ draft, onDraft, spares }: Pick<Props, 'draft' | 'onDraft' | 'spares'>) {
  return (
    <>
      {spares.length > 0 && (
        <Choice
          legend={t('mend.spares')}
          layout="flow"
          slim
          options={spares.slice(0, proposed).map((value) => ({ value, words: value }))}
          value={draft.spare}
          onChoose={(spare) => onDraft({ ...draft, spare: spare === draft.spare ? '' : spare })}
        />
      )}
      <Field label={t('mend.spare')} value={draft.spare} onInput={(spare) => onDraft({ ...draft, spare })} />
    </>
  );
}

interface SecondProps extends Pick<Props, 'draft' | 'onDraft'> {
  since: number;
}

function Second({ draft, since, onDraft }: SecondProps) {
  const seconds = useSeconds(since);
  return (
    <section class="mend">
      <h2>{t('after.secondTitle')}</h2>
      {draft.order !== 'after' && (
        <>
          <p class="strong">{t(`mend.refused-${draft.order}`)}</p>
          <Button kind="quiet" onPress={() => onDraft(looking(draft, 'after', Date.now()))}>
            {t('mend.anew')}
          </Button>
        </>
      )}
      <p class="stopwatch" role="timer">
        {clock(seconds)}
      </p>
      <Caution codes={['second']} />
    </section>
  );
}
