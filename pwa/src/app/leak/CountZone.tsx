import { Button, Choice } from '../../ui';
import { lengths } from '../../ui/theme';
import { num, said, t } from '../../words';
import { secondsSince } from '../useClock';
import { Gas, GasUnits } from './Gas';
import { Keys } from './Keys';
import { again, anotherWay, counts, entry, grows, type How, type LeakDraft, stopped, type Target } from './observation';
import { Looks } from './Looks';
import { RunningClock, RunningTaps } from './Running';

const bubbles: readonly How[] = ['window', 'ten', 'taps'];
const others: readonly How[] = ['dome', 'froth', 'collected', 'class'];

interface Props {
  draft: LeakDraft;
  onDraft: (draft: LeakDraft) => void;
}

/** Where a leak is observed: the ways to do it, the running clock over all, or the numbers and their keys. */
export function CountZone({ draft, onDraft }: Props) {
  return (
    <>
      {draft.startedAt !== null && <Running draft={draft} onDraft={onDraft} />}
      {draft.counted ? <Numbers draft={draft} onDraft={onDraft} /> : <Ways draft={draft} onDraft={onDraft} />}
      {draft.target !== null && draft.target !== 'size' && <Keys draft={draft} target={draft.target} onDraft={onDraft} />}
      {draft.counted && draft.how === 'collected' && <GasBelow draft={draft} onDraft={onDraft} />}
    </>
  );
}

function Running({ draft, onDraft }: Props) {
  if (draft.how === 'taps') {
    const done = () => onDraft({ ...draft, startedAt: null, counted: draft.taps.length > 0 });
    return <RunningTaps taps={draft.taps} onTaps={(taps) => onDraft({ ...draft, taps })} onDone={done} />;
  }
  return <RunningClock draft={draft} onStop={(at) => onDraft(stopped(draft, secondsSince(draft.startedAt, at)))} />;
}

function Ways({ draft, onDraft }: Props) {
  const choose = (how: How) => onDraft(anotherWay(draft, how, lengths.value));
  const counted = counts(draft.how);
  return (
    <>
      <Choice
        legend={t('leak.how')}
        quiet
        slim
        layout={counted ? 'even' : 'two'}
        options={(counted ? bubbles : others).map((value) => ({ value, words: said('leak.how', value) }))}
        value={draft.how}
        onChoose={choose}
      />
      {draft.how === 'collected' && <Gas />}
      {draft.how === 'class' && <Looks looks={draft.looks} onLooks={(looks) => onDraft({ ...draft, looks })} />}
      {draft.how !== 'taps' && draft.how !== 'class' && (
        <Button kind="plain" onPress={() => onDraft({ ...draft, counted: true, target: 'time' })}>
          {t('leak.typeTime')}
        </Button>
      )}
      <Button kind="plain" onPress={() => choose(counted ? 'class' : 'window')}>
        {t(counted ? 'leak.otherWays' : 'leak.bubbleWays')}
      </Button>
    </>
  );
}

function Numbers({ draft, onDraft }: Props) {
  const number = (target: Target, words: string, empty?: string) => (
    <Number
      words={words}
      value={entry(draft, target) || (empty ?? '')}
      on={draft.target === target}
      onPress={() => onDraft({ ...draft, target })}
    />
  );
  const { how } = draft;
  const several = how === 'ten' && (draft.count !== '' || draft.target === 'count'); // only a corrected one says how many
  return (
    <div class={how === 'collected' ? 'numbers three' : 'numbers'}>
      {how === 'taps' && <p class="number-field">{t('leak.tapped', { n: draft.taps.length })}</p>}
      {(how === 'window' || several) && number('count', t('leak.count'))}
      {how === 'collected' && number('volume', `${t('leak.volume')}, ${said('unit', draft.volumeUnit)}`)}
      {how !== 'taps' && number('time', t('leak.time'))}
      {grows(how) && number('height', `${t(how === 'froth' ? 'leak.grewBy' : 'leak.height')}, ${said('unit', draft.heightUnit)}`, how === 'dome' ? t('leak.heightNone') : undefined)}
      {how === 'collected' && number('head', `${t('leak.head')}, ${said('unit', draft.headUnit)}`, t('leak.headNone'))}
      {how !== 'collected' && <Again draft={draft} onDraft={onDraft} />}
    </div>
  );
}

/** What is seldom pressed where gas was collected: under the keys, so that these stand by their numbers. */
function GasBelow({ draft, onDraft }: Props) {
  return (
    <>
      <GasUnits draft={draft} onDraft={onDraft} />
      <Again draft={draft} onDraft={onDraft} />
    </>
  );
}

function Again({ draft, onDraft }: Props) {
  return (
    <Button kind="quiet" onPress={() => onDraft(again(draft))}>
      {t('leak.again')}
    </Button>
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
