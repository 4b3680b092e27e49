/** The sentence that a finding's page begins with. */
import type { FindingCard } from '../../engine/types';
import { unitWords } from '../../ui/Figure';
import { said, t } from '../../words';

/** What is so, in words: which joint, how much, what became of it. */
export function sentence(card: FindingCard): string {
  const { figure, share } = card;
  const state = said('state', card.state);
  if (card.mark === 'burst') return t('finding.says-gross', { joint: card.jointName, state });
  if (figure === undefined) return t('finding.says-plain', { joint: card.jointName, state });
  const told = { joint: card.jointName, median: figure.median, unit: unitWords(figure.unit, figure.ref), state };
  return share ? t('finding.says-share', { ...told, share: share.median }) : t('finding.says', told);
}
