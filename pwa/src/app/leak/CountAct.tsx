import { Button } from '../../ui';
import { momentOf } from '../../ui/moment';
import { t } from '../../words';
import { Hold } from './Hold';
import { type Lack, type LeakDraft, missing } from './observation';
import { note, wake } from './sound';
import { useKey } from './useKey';

interface Props {
  draft: LeakDraft;
  onDraft: (draft: LeakDraft) => void;
  /** Why nothing can be said of what is there; then it cannot be saved. */
  cannot: string | undefined;
  saveWords: string;
  onSave: () => void;
}

/** The one thing to do next: start, what is still missing, save. */
export function CountAct({ draft, onDraft, cannot, saveWords, onSave }: Props) {
  const starts = !draft.counted && draft.how !== 'class' && draft.startedAt === null;
  const start = (at: number) => {
    wake();
    note('start');
    onDraft({ ...draft, target: null, startedAt: momentOf(at) });
  };
  useKey(starts, start);
  if (starts) {
    return (
      <Button kind="main" onPress={start}>
        {t(draft.how === 'taps' ? 'leak.startTaps' : 'leak.start')}
      </Button>
    );
  }
  const lacks = missing(draft) ?? wrongOne(cannot);
  return <Hold words={lacks === null ? saveWords : t(lacking[lacks])} disabled={lacks !== null} onDone={onSave} />;
}

/** The number that a refusal is about: its code begins with the field. */
function wrongOne(cannot: string | undefined): Lack | null {
  if (!cannot) return null;
  for (const field of ['count', 'time', 'clock', 'volume', 'height', 'class'] as const) {
    if (cannot.startsWith(field)) return field === 'clock' ? 'time' : field;
  }
  return 'size';
}

const lacking = {
  count: 'leak.needCount', time: 'leak.needTime', size: 'leak.needSize', volume: 'leak.needVolume', height: 'leak.needHeight', class: 'leak.needClass',
} as const;
