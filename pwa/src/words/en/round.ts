/** English words of a fixture's page and of a round's beginning and end. */
export const round = {
  'round.title': 'Round',
};
