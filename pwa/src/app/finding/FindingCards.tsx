import type { FindingCard } from '../../engine/types';
import '../fixture/fixture.css';
import { FindingRow } from '../FindingRow';
import { said, t } from '../../words';
import { day } from '../../words/when';
import { clockOff, nameOf } from '../stamp';

/** Findings as cards, for a phone: each with the fixture it is on, and what the review said. */
export function FindingCards({ cards }: { cards: readonly FindingCard[] }) {
  return (
    <ul class="finding-cards">
      {cards.map((card) => (
        <li key={card.id}>
          <p class="small soft">{[card.fixtureName, day(card.seen.time), nameOf(card.seen), clockOff(card.seen)].filter(Boolean).join(' · ')}</p>
          <FindingRow card={card} />
          {card.review && <p class="small">{t('finding.reviewed', { verdict: said('verdict', card.review) })}</p>}
        </li>
      ))}
    </ul>
  );
}
