import type { FindingCard } from '../engine/types';
import { Figure, MarkShape, share } from '../ui';
import { said, t } from '../words';

/** A finding in a list: mark and joint, the figure with its bar, its share of the limit. */
export function FindingRow({ card }: { card: FindingCard }) {
  return (
    <a class="finding-row" href={`/finding/${card.id}`}>
      <MarkShape mark={card.mark} />
      <span class="finding-what">
        <span class="strong">{card.jointName}</span>
        <span class="small soft">
          {said('circuit', card.circuit)} · {said('state', card.state)}
        </span>
        {card.figure && <Figure figure={card.figure} list />}
        {card.share && <span class="small">{t('leak.ofLimit', { share: share(card.share) })}</span>}
        {card.cannotSay && <span class="small">{said('mark', card.mark)}</span>}
      </span>
    </a>
  );
}
