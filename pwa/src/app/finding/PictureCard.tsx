import { useState } from 'preact/hooks';
import { status } from '../../engine/client';
import type { Finding, PictureCard as Card } from '../../engine/types';
import { Button } from '../../ui';
import { t } from '../../words';
import { corrects, supervises } from '../duty';
import { who } from '../stamp';
import { PictureShown } from './PictureShown';
import { WithdrawPicture } from './WithdrawPicture';

/** A picture of a finding with what can be done with it; of one that was withdrawn, who did so and why. */
export function PictureCard({ card, finding }: { card: Card; finding: Finding }) {
  const [asking, setAsking] = useState(false);
  if (card.withdrawn) return <Gone card={card} by={who(card.withdrawn)} />;
  return (
    <figure class="picture">
      <PictureShown picture={card} words={t('finding.picture', { joint: finding.card.jointName })} />
      {mayMeasure(finding) && <Button href={`/finding/${finding.card.id}/measure/${card.hash}`}>{t('measure.open')}</Button>}
      {mayWithdraw(card, finding.site) && (
        <Button kind="quiet" onPress={() => setAsking(true)}>
          {t('picture.withdraw')}
        </Button>
      )}
      {asking && <WithdrawPicture card={card} site={finding.site} fixture={finding.card.fixture} of={finding.card.id} onClose={() => setAsking(false)} />}
    </figure>
  );
}

function Gone({ card: { hash, why }, by }: { card: Card; by: string }) {
  return (
    <div class="picture withdrawn">
      <p class="strong">{t('picture.withdrawn')}</p>
      <p>{why === 'undo' ? t('picture.undone') : why}</p>
      <p class="small soft">{by}</p>
      <p class="small soft">{t('picture.hash', { hash })}</p>
    </div>
  );
}

/** A bubble that was counted, by whom its size may be corrected. */
function mayMeasure({ observation, card, site }: Finding): boolean {
  return observation !== undefined && observation.size.as !== 'none' && corrects(card.seen.by, site);
}

/** Whoever took it, and supervisors of its site. The server holds everybody to it. */
function mayWithdraw(card: Card, site: string): boolean {
  return supervises(site) || card.taken.by === status.value.me?.person.id;
}
