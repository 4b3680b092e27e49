import type { FindingCard } from '../engine/types';
import { Figure, MarkShape, share } from '../ui';
import { said, t } from '../words';
import { placeName } from './placeName';

/** A finding in a list: mark and joint, the figure with its bar, its share of the limit. */
export function FindingRow({ card }: { card: FindingCard }) {
  return (
    <a class="finding-row" href={`/finding/${card.id}`}>
      <MarkShape mark={card.mark} />
      <span class="finding-what">
        <span class="strong">{placeName(card.jointName, card.spot)}</span>
        <span class="small soft">
          {said('circuit', card.circuit)}
          {card.state !== 'waiting' && ` · ${said('state', card.state)}`}
        </span>
        {card.state === 'waiting' && <span class="small strong">{said('state', 'waiting')}</span>}
        {card.obstacle && <span class="small">{t('mend.lastLook', { why: said('obstacle', card.obstacle) })}</span>}
        {card.figure && <Figure figure={card.figure} list />}
        {card.share && <span class="small">{t('leak.ofLimit', { share: share(card.share) })}</span>}
        {card.cannotSay && <span class="small">{said('mark', card.mark)}{card.sign && `, ${said('sign', card.sign)}`}{card.mark === 'burst' && ` · ${t('look.fixFirst')}`}</span>}
      </span>
    </a>
  );
}
