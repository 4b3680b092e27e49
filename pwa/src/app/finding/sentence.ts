/** The sentence that a finding's page begins with. */
import type { FindingCard } from '../../engine/types';
import { unitWords } from '../../ui/Figure';
import { t } from '../../words';

/** What is so, in words: which joint, and how much it leaked when it was seen. */
export function sentence(card: FindingCard): string {
  const { figure, share } = card;
  if (card.cannotSay === 'gross') return t('finding.says-gross', { joint: card.jointName });
  if (figure === undefined) return t('finding.says-plain', { joint: card.jointName });
  const told = { joint: card.jointName, median: figure.median, unit: unitWords(figure.unit, figure.ref) };
  return share ? t('finding.says-share', { ...told, share: share.median }) : t('finding.says', told);
}
