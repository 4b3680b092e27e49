/** English words of looking at joints and of one leak. */
export const look = {
  'look.title': '{name}',
  'look.start': { one: 'This one is wetted: start', other: 'These {n} are wetted: start' },
};
