import { vocabulary } from '../../engine/types';
import { Button, Choice } from '../../ui';
import { said, t } from '../../words';
import type { Tried as What } from './observation';

interface Props {
  tried: What;
  put: (part: Partial<What>) => void;
}

/** What was tried besides looking: wiped, vented, wetted again. Nothing of it is asked before saving. */
export function Tried({ tried, put }: Props) {
  return (
    <>
      <Choice
        legend={t('leak.wiped')}
        slim
        options={vocabulary.wipes.map((value) => ({ value, words: said('leak.wiped', value) }))}
        value={tried.wiped}
        onChoose={(wiped) => put({ wiped })}
      />
      <Choice
        legend={t('leak.vented')}
        slim
        options={vocabulary.vents.map((value) => ({ value, words: said('leak.vented', value) }))}
        value={tried.vented}
        onChoose={(vented) => put({ vented })}
      />
      {tried.vented === 'went-on' && <p class="small warning">{said('warning', 'went-on-vented')}</p>}
      <Rewets n={tried.rewets} onRewets={(rewets) => put({ rewets })} />
    </>
  );
}

function Rewets({ n, onRewets }: { n: number; onRewets: (n: number) => void }) {
  return (
    <div class="rewets">
      <Button kind="quiet" disabled={n >= 99} onPress={() => onRewets(n + 1)}>
        {n === 0 ? t('leak.rewet') : t('leak.rewets', { n })}
      </Button>
      {n > 0 && (
        <Button kind="plain" onPress={() => onRewets(n - 1)}>
          {t('leak.rewetOff')}
        </Button>
      )}
    </div>
  );
}
