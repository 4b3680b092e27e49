import { useAsk } from '../../engine/client';
import type { ConflictCard } from '../../engine/types';
import { Page } from '../../ui';
import { t } from '../../words';
import { Answered } from '../Answered';
import { ConflictView } from './ConflictView';

/** /conflicts: what two people changed without knowing of each other, the longest standing first. */
export function Conflicts() {
  const asked = useAsk('conflicts', {});
  return (
    <Answered asked={asked}>
      {({ conflicts }) => (
        <Page title={t('conflict.page')} back="/">
          <div class="says lead">
            <p>{conflicts.length === 0 ? t('conflict.none') : t('conflict.lead', { n: conflicts.length })}</p>
          </div>
          {conflicts.map((card) => (
            <div key={card.base + card.field} class="conflict-of">
              <p class="small soft">
                <a href={`/f/${card.fixture}`}>{card.fixtureName}</a>
              </p>
              <ConflictView card={card} />
            </div>
          ))}
        </Page>
      )}
    </Answered>
  );
}

/** On the fixture's own page: its conflicts, before all else that is known of it. */
export function ConflictsHere({ cards }: { cards: readonly ConflictCard[] | undefined }) {
  if (cards === undefined || cards.length === 0) return null;
  return (
    <section class="conflicts-here" aria-label={t('conflict.here')}>
      <h2>{t('conflict.here')}</h2>
      <p>{t('conflict.lead', { n: cards.length })}</p>
      {cards.map((card) => (
        <ConflictView key={card.base + card.field} card={card} />
      ))}
    </section>
  );
}
