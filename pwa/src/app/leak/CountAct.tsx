import { Button } from '../../ui';
import { t } from '../../words';
import { secondsSince } from '../useClock';
import { type LeakDraft, missing, stopped, type Target } from './observation';
import { wake } from './sound';

interface Props {
  draft: LeakDraft;
  onDraft: (draft: LeakDraft) => void;
  /** Why nothing can be said of what is there; then it cannot be saved. */
  cannot: string | undefined;
  saveWords: string;
  onSave: () => void;
}

/** The one thing to do next: start, stop, what is still missing, save. */
export function CountAct({ draft, onDraft, cannot, saveWords, onSave }: Props) {
  if (draft.startedAt !== null && draft.how !== 'taps') {
    const stop = () => onDraft(stopped(draft, secondsSince(draft.startedAt, Date.now())));
    return (
      <Button kind="main" onPress={stop}>
        {t(draft.how === 'ten' ? 'leak.stopTen' : 'leak.stopNow')}
      </Button>
    );
  }
  if (!draft.counted) {
    const start = () => {
      wake();
      onDraft({ ...draft, startedAt: Date.now() });
    };
    return (
      <Button kind="main" onPress={start}>
        {t(draft.how === 'taps' ? 'leak.startTaps' : 'leak.start')}
      </Button>
    );
  }
  const lacks = missing(draft) ?? wrongOne(cannot);
  return (
    <Button kind="main" disabled={lacks !== null} onPress={onSave}>
      {lacks === null ? saveWords : t(lacking[lacks])}
    </Button>
  );
}

/** The number that a refusal is about: its code begins with the field. */
function wrongOne(cannot: string | undefined): Target | null {
  if (!cannot) return null;
  if (cannot.startsWith('count')) return 'count';
  return cannot.startsWith('time') ? 'time' : 'size';
}

const lacking = { count: 'leak.needCount', time: 'leak.needTime', size: 'leak.needSize' } as const;
