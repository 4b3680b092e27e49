import { useState } from 'preact/hooks';
import { status } from '../../engine/client';
import { Choice, Sheet } from '../../ui';
import { t } from '../../words';
import { sizes } from './edit/Label';

const counts = ['12', '36', '72'] as const;

/** Labels printed ahead: how many, how large; the server mints their codes. */
export function BlankLabels({ onClose }: { onClose: () => void }) {
  const [n, setN] = useState<(typeof counts)[number]>('36');
  const [size, setSize] = useState<(typeof sizes)[number]>('50x30');
  return (
    <Sheet title={t('blank.title')} onClose={onClose}>
      <p>{t('blank.what')}</p>
      <Choice legend={t('blank.pages')} slim options={counts.map((value) => ({ value, words: value }))} value={n} onChoose={setN} />
      <Choice
        legend={t('blank.size')}
        slim
        options={sizes.map((value) => ({ value, words: value.replace('x', ' × ') }))}
        value={size}
        onChoose={setSize}
      />
      {status.value.reach === 'offline' ? (
        <p class="small soft">{t('blank.offline')}</p>
      ) : (
        <a class="button main" href={`/api/tags/blank.pdf?n=${n}&size=${size}`} target="_blank" rel="noopener">
          {t('blank.open')}
        </a>
      )}
    </Sheet>
  );
}
