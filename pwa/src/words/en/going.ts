/** English words of what takes long: how far it is, and what stopping means. */
export const going = {
  'going.send': 'Sending records: {done} of {of}',
  'going.fetch': 'Fetching records: {done} of {of}',
  'going.pictures': 'Sending pictures: {done} of {of}',
  'going.photos': 'Fetching photos of fixtures: {done} of {of}',
  'going-far.fetch': 'Fetching records: {done} so far',
  'going.asking': 'Asking the server',
  'going.paused': 'Stopped. What came is kept, and what you record is still sent. “Sync now” goes on where it was.',
  'chip.paused': 'Fetching stopped',
  'older.so-far': { one: 'Fetching older rounds: {n} record so far', other: 'Fetching older rounds: {n} records so far' },
  'older.stopped': 'Stopped. No older round came; nothing was changed here.',
  'going.clearing': 'Taking all records off this device',
  'clearing.title': 'Leaving',
  'clearing.why': 'This cannot be stopped: the server knows this device no more, and half of its records would stay for whoever finds it. If the app closes now, it goes on when it is opened again.',
};
