/** English sentences for the phrases that the engine says. */
export const says = {
  'says.no-joints': 'No joints are listed yet.',
  'says.no-program': 'No program is set: there is no limit to compare with.',
  'says.never-looked': 'Nobody has looked at this fixture yet.',
  'says.all-tight': { one: 'Its one joint: nothing seen.', other: 'All {n} joints: nothing seen.' },
  'says.leaks-open': { one: 'One leak open.', other: '{n} leaks open.' },
  'says.leaks-open-share': {
    one: 'One leak open, about {share} % of the limit.',
    other: '{n} leaks open, together about {share} % of the limit.',
  },
  'says.leaks-aside': {
    one: 'One leak off the test side: {names}.',
    other: '{n} leaks off the test side: {names}.',
  },
  'says.gross-open': { one: 'One gross leak open: {names}.', other: '{n} gross leaks open: {names}.' },
  'says.accepted': {
    one: '{names} leaks and was accepted as it is.',
    other: '{names} leak and were accepted as they are.',
  },
  'says.waiting': {
    one: '{names} was mended and waits for its second look.',
    other: '{names} were mended and wait for their second look.',
  },
  'says.partly': { one: '{names} was seen only partly.', other: '{names} were seen only partly.' },
  'says.not-reached': { one: '{names} was not reached.', other: '{names} were not reached.' },
  'says.accepted-many': '{n} leaks were accepted as they are.',
  'says.waiting-many': '{n} joints were mended and wait for their second look.',
  'says.partly-many': '{n} joints were seen only partly.',
  'says.not-reached-many': '{n} joints were not reached.',
  'says.gross-open-many': '{n} gross leaks open.',
  'says.leaks-aside-many': '{n} leaks off the test side.',
  'says.not-looked': { one: 'One joint is not looked at yet.', other: '{n} joints are not looked at yet.' },
  'says.round-running': '{done} of {all} joints looked at.',
};
