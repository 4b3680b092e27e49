import { Button, Choice, NumberPad } from '../../ui';
import { num, said, t } from '../../words';
import { useClock } from '../useClock';
import { again, entered, entry, type How, type LeakDraft, type Target } from './observation';
import { TapPad } from './TapPad';

const ways: How[] = ['window', 'ten', 'taps'];

interface Props {
  draft: LeakDraft;
  onDraft: (draft: LeakDraft) => void;
}

/** Where bubbles are counted: the ways to count, the running clock, or the numbers and their keys. */
export function CountZone({ draft, onDraft }: Props) {
  if (draft.startedAt !== null && draft.how === 'taps') {
    const done = () => onDraft({ ...draft, startedAt: null, counted: draft.taps.length > 0 });
    return <TapPad taps={draft.taps} onTaps={(taps) => onDraft({ ...draft, taps })} onDone={done} />;
  }
  if (draft.startedAt !== null) return <Stopwatch since={draft.startedAt} />;
  return (
    <>
      {draft.counted ? <Numbers draft={draft} onDraft={onDraft} /> : <Ways draft={draft} onDraft={onDraft} />}
      {draft.target !== null && <Keys draft={draft} target={draft.target} onDraft={onDraft} />}
    </>
  );
}

function Ways({ draft, onDraft }: Props) {
  return (
    <>
      <Choice
        legend={t('leak.how')}
        quiet
        slim
        options={ways.map((value) => ({ value, words: said('leak.how', value) }))}
        value={draft.how}
        onChoose={(how) => onDraft({ ...again(draft), how })}
      />
      {draft.how !== 'taps' && (
        <Button kind="plain" onPress={() => onDraft({ ...draft, counted: true, target: 'time' })}>
          {t('leak.typeTime')}
        </Button>
      )}
    </>
  );
}

function Stopwatch({ since }: { since: number }) {
  const seconds = useClock(since);
  return (
    <p class="stopwatch" role="timer">
      {num(seconds.toFixed(1))}
    </p>
  );
}

function Numbers({ draft, onDraft }: Props) {
  const aim = (target: Target) => onDraft({ ...draft, target });
  return (
    <div class="numbers">
      {draft.how === 'taps' && <p class="number-field">{t('leak.tapped', { n: draft.taps.length })}</p>}
      {draft.how === 'window' && (
        <Number words={t('leak.count')} value={draft.count} on={draft.target === 'count'} onPress={() => aim('count')} />
      )}
      {draft.how !== 'taps' && (
        <Number words={t('leak.time')} value={draft.seconds} on={draft.target === 'time'} onPress={() => aim('time')} />
      )}
      <Button kind="quiet" onPress={() => onDraft(again(draft))}>
        {t('leak.again')}
      </Button>
    </div>
  );
}

function Number({ words, value, on, onPress }: { words: string; value: string; on: boolean; onPress: () => void }) {
  return (
    <button type="button" class="number-field" aria-pressed={on} onClick={onPress}>
      <span class="small">{words}</span>
      <span class="number-value">{value === '' ? '–' : num(value)}</span>
    </button>
  );
}

function Keys({ draft, target, onDraft }: Props & { target: Target }) {
  const value = entry(draft, target);
  return (
    <NumberPad
      value={value}
      decimal={target !== 'count'}
      onChange={(text) => onDraft(entered(draft, target, text))}
    />
  );
}
