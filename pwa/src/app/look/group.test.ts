import { expect, test } from 'vitest';
import type { RoundJoint } from '../../engine/types';
import { finished, type Group, idle, nothingSeen, pressed, proposed, rest, started, wettedOf, without } from './group';

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
    for (const draft of nothingSeen(group, 30, place)) {
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
  const group = { ...pressed(started(idle(3), all, 0), all, 'j2'), stayed: false };
  expect(nothingSeen(group, 12.5, place)).toEqual([
    { kind: 'look-made', site: 's', fixture: 'f', body: { round: 'r', joint: 'j1', result: 'none', seconds: 12.5, stayed: false, back: true } },
    { kind: 'look-made', site: 's', fixture: 'f', body: { round: 'r', joint: 'j3', result: 'none', seconds: 12.5, stayed: false, back: true } },
  ]);
});

test('what bubbled waits in place order with its own look time; the group begins anew', () => {
  const all = joints(4);
  const group = pressed(pressed(started(idle(4), all, 0), all, 'j3'), all, 'j1');
  const over = finished({ ...group, queue: [{ joint: 'x', seconds: 1, stayed: true, back: true }] }, 20);
  expect(over.queue.map((leak) => leak.joint)).toEqual(['x', 'j1', 'j3']);
  expect(over.queue[1]).toEqual({ joint: 'j1', seconds: 20, stayed: true, back: true });
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
