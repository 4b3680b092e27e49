import { t } from '../words';
import { Button } from './Button';

interface Props {
  /** What is being done and how far it is, in words. */
  says: string;
  /** How much of `of` is done: a bar. Left out where nobody knows how much there is. */
  done?: number | undefined;
  of?: number | undefined;
  /** Left out for what cannot be stopped. */
  onStop?: (() => void) | undefined;
}

/** Something long that is under way: how far it is, and how to stop it. */
export function Going({ says, done, of, onStop }: Props) {
  return (
    <div class="going">
      <span class="small">{says}</span>
      {onStop && (
        <Button kind="plain" onPress={onStop}>
          {t('stop')}
        </Button>
      )}
      {of !== undefined && of > 0 && <progress aria-label={says} value={done ?? 0} max={of} />}
    </div>
  );
}
