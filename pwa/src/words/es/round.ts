/** Spanish words of a fixture's page and of a round's beginning and end. */
import type { Catalogue } from '../catalogue';
import type { round as english } from '../en/round';

export const round: Catalogue<keyof typeof english> = {
  'round.title': 'Ronda',
};
