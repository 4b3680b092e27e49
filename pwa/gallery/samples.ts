/** Invented values for the parts to show. */
import type { FindingCard, Fixture, JointCard, NoteCard, PictureCard, Round, RoundJoint, Stamp, Unseen, Watch } from '../src/engine/types';
import type { FigureValue } from '../src/ui/Figure';

export const stamp: Stamp = { by: 'p', name: 'Technician one', time: '2026-03-01T10:00:00.000Z' };

export const figure: FigureValue & { molPerSecond: number[] } = {
  median: '0.345', low: '0.166', high: '0.66', unit: 'std cm3/min', ref: '0C', molPerSecond: [0, 0, 0],
  bar: { low: 0.44, median: 0.51, high: 0.56, limit: 0.66, allowance: 0.46 },
};

export const tiny: typeof figure = { ...figure, median: '0.00052', low: '0.00004', high: '0.0031', bar: { low: -1, median: 0.01, high: 0.1, limit: -1, allowance: -1 } };

/** A joint of a round. */
export function joint(more: Partial<RoundJoint> = {}): RoundJoint {
  return { id: 'j', name: 'Elbow at the manifold', kind: 'compression', circuit: 'test', mark: 'blank', before: 'blank', ...more };
}

/** A joint of a fixture. */
export function card(more: Partial<JointCard> = {}): JointCard {
  return { id: 'j', event: 'e', name: 'Elbow at the manifold', kind: 'compression', circuit: 'test', order: 1, mark: 'ring', history: [], ...more };
}

/** A round of five joints at which nobody looked yet. */
export function round(more: Partial<Round> = {}): Round {
  const amount = (value: number, unit: string) => ({ value, unit });
  const conditions = { gas: 'air', pressure: amount(2, 'bar'), ambient: amount(20, 'degC'), solution: 'film', wetted: 'after' };
  const joints = [1, 2, 3, 4, 5].map((n) => joint({ id: `j${n}` }));
  return {
    id: 'r', site: 's', fixture: 'x', fixtureName: 'Worked station', tag: 'X62NCS53C8G', started: stamp, conditions, done: 0,
    joints, findings: [], notes: [], says: [], putBack: [], putBackDone: [], ...more,
  };
}

/** A fixture of one joint. */
export function fixture(more: Partial<Fixture> = {}): Fixture {
  return {
    id: 'x', base: 'e', site: 's', siteName: 'Plant one', name: 'Worked station', place: 'Station 1', note: '', tag: 'X62NCS53C8G', tags: [],
    made: stamp, mark: 'ring', cautions: [], findings: [], joints: [card()], retired: [], rounds: [], notes: [], says: [], ...more,
  };
}

/** A finding in a list. */
export function finding(more: Partial<FindingCard> = {}): FindingCard {
  return {
    id: 'f', fixture: 'x', fixtureName: 'Worked station', round: 'r', joint: 'j', jointName: 'Elbow at the manifold', circuit: 'test',
    mark: 'drop', state: 'open', figure, share: { median: '17', low: '8.3', high: '33' }, seen: stamp, ...more,
  };
}

export const note: NoteCard = { event: 'e', of: 'j', jointName: 'Port nut', text: 'Reached from below with a short spanner.', added: stamp };

export const watch: Watch = {
  unit: 'std cm3/min', ref: '0C', counted: 5, left: 9, enough: 30,
  steps: [{ seconds: 2, high: '0.0216', all: '0.0216', share: '1.1' }],
};

export const unseen: Unseen = { joints: 12, high: '0.0014', unit: 'std cm3/min', ref: '0C', share: '0.07' };

export const photo: PictureCard = {
  event: 'e', hash: 'ab'.repeat(32), bytes: 10, type: 'image/jpeg', width: 400, height: 300, taken: stamp,
};
