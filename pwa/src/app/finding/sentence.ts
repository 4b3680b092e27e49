/** The sentence that a finding's page begins with. */
import type { FindingCard } from '../../engine/types';
import { unitWords } from '../../ui/Figure';
import { said, t } from '../../words';
import { placeName } from '../placeName';

/** What is so, in words: which joint, and how much it leaked when it was seen. */
export function sentence(card: FindingCard): string {
  const { figure, share } = card;
  const joint = placeName(card.jointName, card.spot);
  if (card.sign) return t('finding.says-sign', { joint, sign: said('sign', card.sign) });
  if (card.mark === 'burst') return t('finding.says-gross', { joint });
  if (figure === undefined) return t('finding.says-plain', { joint });
  const told = { joint, median: figure.median, unit: unitWords(figure.unit, figure.ref) };
  return share ? t('finding.says-share', { ...told, share: share.median }) : t('finding.says', told);
}
