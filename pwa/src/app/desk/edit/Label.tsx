import { useState } from 'preact/hooks';
import { status } from '../../../engine/client';
import type { Fixture } from '../../../engine/types';
import { grouped } from '../../../scan/code';
import { Choice } from '../../../ui';
import { t } from '../../../words';

/** The sizes of labels on offer, in mm. */
export const sizes = ['50x30', '40x40', '60x40', '100x60'] as const;

/** The fixture's tag: its code, and the label to print in a chosen size. */
export function Label({ fixture }: { fixture: Fixture }) {
  const [size, setSize] = useState<(typeof sizes)[number]>('50x30');
  const { reach, unsent } = status.value;
  const why = reach === 'offline' ? 'offline' : unsent > 0 ? 'unsent' : null;
  return (
    <section class="form" aria-label={t('label.title')}>
      <h2>{t('label.title')}</h2>
      <p class="tag-code">{grouped(fixture.tag)}</p>
      {fixture.tagOn && <p class="wrong" role="alert">{t('tag.on', { name: fixture.tagOn })}</p>}
      <p class="small soft">{t('label.what')}</p>
      <Choice
        legend={t('label.size')}
        layout="even"
        slim
        options={sizes.map((value) => ({ value, words: value.replace('x', ' × ') }))}
        value={size}
        onChoose={setSize}
      />
      {why === null ? (
        <a class="button" href={`/api/fixtures/${fixture.id}/label.pdf?size=${size}`} target="_blank" rel="noopener">
          {t('label.open')}
        </a>
      ) : (
        <p class="small soft">{t(`label.${why}`)}</p>
      )}
    </section>
  );
}
