import type { Estimate } from '../../engine/types';
import { Button } from '../../ui';
import { t } from '../../words';

interface Props {
  estimate: Estimate | null;
  /** Shows the sizes again, for one more bubble. */
  onSize: () => void;
  /** Counts again. */
  onCount: () => void;
}

/** What narrows the answer most once it is counted, with the button that does it. */
export function Narrower({ estimate, onSize, onCount }: Props) {
  if (estimate?.advice === undefined) return null;
  if (estimate.advice === 'enough') return <p class="small soft">{t('leak.enough')}</p>;
  if (estimate.advice === 'size-better') return <p class="small soft">{t('advice.size-better')}</p>;
  const size = estimate.advice === 'size-again';
  return (
    <div class="narrower">
      <p class="small">{size ? t('leak.sizeAgain') : t('leak.countOn', { n: estimate.countTo ?? 0 })}</p>
      <Button kind="plain" onPress={size ? onSize : onCount}>
        {t(size ? 'leak.sizeAgainDo' : 'leak.countOnDo')}
      </Button>
    </div>
  );
}
