import { expect, test } from 'vitest';
import type { RoundJoint } from '../../engine/types';
import { againFirst, finished, type Group, idle, inOrder, nothingSeen, pressed, proposed, rest, resumed, showsWaiting, started, wettedOf, without } from './group';

const place = { site: 's', fixture: 'f', round: 'r' };

function joints(n: number, marks: Record<number, RoundJoint['mark']> = {}): RoundJoint[] {
  return Array.from({ length: n }, (_, i) => ({
    id: `j${i + 1}`, name: `Joint ${i + 1}`, kind: 'flared', circuit: 'test', mark: marks[i + 1] ?? 'blank', before: 'blank',
  }));
}

/** Plays a whole round where nothing bubbles; gives the presses it took and the joints saved. */
function play(all: RoundJoint[], size: number): { presses: number; saved: string[] } {
  let group: Group = idle(size);
  let presses = 0;
  const saved: string[] = [];
  while (wettedOf(group, all).length > 0) {
    group = started(group, all, 1000);
    for (const draft of nothingSeen(group, 30, true, place)) {
      const { joint } = draft.body as { joint: string };
      saved.push(joint);
      all = all.map((one) => (one.id === joint ? { ...one, mark: 'ring' } : one));
    }
    group = finished(group, 30);
    presses += 2;
  }
  return { presses, saved };
}

test('fourteen tight joints take at most eight presses, and each is saved once', () => {
  const { presses, saved } = play(joints(14), idle().size);
  expect(presses).toBeLessThanOrEqual(8);
  expect(saved).toEqual(joints(14).map((joint) => joint.id));
});

test('joints that were looked at or retired are not proposed', () => {
  const all = joints(6, { 1: 'ring', 3: 'dash' });
  all[3] = { ...all[3]!, retired: true };
  expect(proposed(all, 2)).toEqual(['j2', 'j5']);
});

test('a press on a row before the start takes it in or out, in place order', () => {
  const all = joints(8);
  let group = pressed(idle(3), all, 'j8');
  expect(group.wetted).toEqual(['j1', 'j2', 'j3', 'j8']);
  group = pressed(group, all, 'j2');
  expect(group.wetted).toEqual(['j1', 'j3', 'j8']);
});

test('while the clock runs a press marks what bubbles, and others are left alone', () => {
  const all = joints(5);
  let group = started(idle(3), all, 0);
  group = pressed(pressed(group, all, 'j2'), all, 'j5');
  expect(group.bubbling).toEqual(['j2']);
  expect(rest(group)).toEqual(['j1', 'j3']);
  expect(pressed(group, all, 'j2').bubbling).toEqual([]);
});

test('the rest is saved with its look time and how it could be seen', () => {
  const all = joints(3);
  const group = pressed(started(idle(3), all, 0), all, 'j2');
  expect(nothingSeen(group, 12.5, false, place)).toEqual([
    { kind: 'look-made', site: 's', fixture: 'f', body: { round: 'r', joint: 'j1', result: 'none', seconds: 12.5, stayed: false, back: true } },
    { kind: 'look-made', site: 's', fixture: 'f', body: { round: 'r', joint: 'j3', result: 'none', seconds: 12.5, stayed: false, back: true } },
  ]);
});

test('what bubbled waits in place order with its own look time; the group begins anew', () => {
  const all = joints(4);
  const group = pressed(pressed(started(idle(4), all, 0), all, 'j3'), all, 'j1');
  const over = finished({ ...group, queue: [{ joint: 'x', seconds: 1, back: true }] }, 20);
  expect(over.queue.map((leak) => leak.joint)).toEqual(['x', 'j1', 'j3']);
  expect(over.queue[1]).toEqual({ joint: 'j1', seconds: 20, back: true, last: '' });
  expect([over.startedAt, over.wetted, over.bubbling]).toEqual([null, null, []]);
});

test('the next group is proposed as large as the last one was', () => {
  const all = joints(14);
  const group = started({ ...idle(), wetted: ['j1', 'j2', 'j3', 'j4', 'j5', 'j6', 'j7'] }, all, 0);
  expect(wettedOf(finished(group, 5), all)).toHaveLength(7);
});

test('a joint recorded by itself leaves the running group; the last one ends it', () => {
  const all = joints(2);
  const group = pressed(started(idle(2), all, 0), all, 'j1');
  const left = without(group, 'j1');
  expect([left.wetted, left.bubbling, left.startedAt]).toEqual([['j2'], [], 0]);
  expect(without(left, 'j2').startedAt).toBeNull();
});

/** The joints with a look each at some of them. */
function lookedAt(all: RoundJoint[], looks: Record<string, string>): RoundJoint[] {
  return all.map((joint) => (looks[joint.id] ? { ...joint, mark: 'ring', lookId: looks[joint.id]! } : joint));
}

test('a group whose looks were saved just before a kill is over, and the next is proposed', () => {
  const all = joints(6);
  const stale = started(idle(3), all, 0);
  const now = lookedAt(all, { j1: 'l1', j2: 'l2', j3: 'l3' });
  const group = resumed(stale, now);
  expect(group.startedAt).toBeNull();
  expect(wettedOf(group, now)).toEqual(['j4', 'j5', 'j6']);
});

test('a group killed before anything was saved goes on', () => {
  const all = lookedAt(joints(4), { j1: 'l1' }); // j1 is looked at again
  const stale = pressed(started({ ...idle(), wetted: ['j1', 'j2'] }, all, 7), all, 'j2');
  expect(resumed(stale, all)).toEqual(stale);
});

test('what was saved of a running group leaves it, and what bubbles there stays', () => {
  const all = lookedAt(joints(3), { j1: 'l1' });
  const stale = pressed(started({ ...idle(), wetted: ['j1', 'j2', 'j3'] }, all, 7), all, 'j3');
  const group = resumed(stale, lookedAt(all, { j1: 'l9', j2: 'l2' }));
  expect(group.wetted).toEqual(['j3']);
  expect(group.bubbling).toEqual(['j3']);
  expect(group.startedAt).toBe(7);
});

test('a leak that was sized just before a kill waits no more, one that was not does', () => {
  const all = joints(4);
  const running = pressed(pressed(started(idle(4), all, 0), all, 'j2'), all, 'j3');
  const stale = finished(running, 20);
  const group = resumed(stale, lookedAt(all, { j1: 'l1', j2: 'l2', j4: 'l4' }));
  expect(group.queue.map(({ joint }) => joint)).toEqual(['j3']);
});

test('a group kept by an earlier version is left as it is', () => {
  const old: Group = { ...idle(2), wetted: ['j1'], startedAt: 5, queue: [{ joint: 'j2', seconds: 1, back: true }] };
  expect(resumed(old, lookedAt(joints(2), { j1: 'l1', j2: 'l2' }))).toEqual(old);
});

test('by the photo joints come as they are walked to, and those without a pin last, in place order', () => {
  const walks = [0, 3, 1, 0, 2];
  const all = joints(5).map((joint, i) => ({ ...joint, walk: walks[i]! }));
  expect(inOrder(all, 'photo').map(({ id }) => id)).toEqual(['j3', 'j5', 'j2', 'j1', 'j4']);
  expect(inOrder(all, 'place')).toEqual(all);
});

test('repairs that wait for their second look stand first, in either order', () => {
  const all = joints(4).map((joint, i) => ({ ...joint, walk: 4 - i, ...(i === 2 && { waits: 'finding' }) }));
  expect(inOrder(all, 'place').map(({ id }) => id)).toEqual(['j3', 'j1', 'j2', 'j4']);
  expect(inOrder(all, 'photo').map(({ id }) => id)).toEqual(['j3', 'j4', 'j2', 'j1']);
  expect(proposed(inOrder(all, 'place'), 2)).toEqual(['j3', 'j1']);
});

test('a repair that waits shows, unless another spot of its joint leaks in this round', () => {
  const [joint] = joints(1) as [RoundJoint];
  const waits = { ...joint, waits: 'finding' };
  expect([joint, waits, { ...waits, state: 'waiting' }, { ...waits, state: 'accepted' }].map(showsWaiting)).toEqual([false, true, true, true]);
  expect(showsWaiting({ ...waits, mark: 'drop', state: 'open' })).toBe(false);
});

test('joints to look at again come first into the next group, which keeps its size or what was chosen', () => {
  const all = joints(8, { 1: 'ring', 2: 'ring', 3: 'ring' });
  expect(againFirst(idle(4), all, ['j1', 'j3']).wetted).toEqual(['j1', 'j3', 'j4', 'j5']);
  expect(againFirst(idle(1), all, ['j1', 'j3']).wetted).toEqual(['j1', 'j3']);
  const chosen = { ...idle(2), wetted: ['j6', 'j7', 'j8'] };
  expect(againFirst(chosen, all, ['j1']).wetted).toEqual(['j1', 'j6', 'j7', 'j8']);
});
