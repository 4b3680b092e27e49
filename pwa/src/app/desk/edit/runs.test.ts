import { expect, test } from 'vitest';
import { asSpelled, runsOf } from './runs';

test('each run stands once, in the order of the joints; a joint on none adds nothing', () => {
  expect(runsOf([{ run: 'Hose A' }, {}, { run: 'Tube 2' }, { run: '' }, { run: 'Hose A' }])).toEqual(['Hose A', 'Tube 2']);
});

test('another spelling of a run is that run; another run stays as typed', () => {
  const runs = ['Hose A', 'Шланг 1'];
  expect(['hose a', ' HoseA ', 'Hose  A', 'шланг 1'].map((run) => asSpelled(run, runs))).toEqual(['Hose A', 'Hose A', 'Hose A', 'Шланг 1']);
  expect([asSpelled(' Hose B ', runs), asSpelled('', runs)]).toEqual(['Hose B', '']);
});
