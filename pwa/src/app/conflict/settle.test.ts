import { expect, test } from 'vitest';
import type { ConflictCard } from '../../engine/types';
import { renaming, retiring, settling } from './settle';

const who = { by: 'p', name: 'Ann', time: '2026-03-01T10:00:00.000Z' };

function card(noun: string, field: string, value: unknown): ConflictCard {
  const sides = [
    { event: 'e1', who, value },
    { event: 'e2', who, value: 'other' },
  ];
  const place = { site: 's', fixture: 'f', fixtureName: 'Bench', of: noun === 'fixture' ? 'f' : 'n', name: 'Nut' };
  return { ...place, noun, field, owner: 'p', ownerName: 'Ann', since: who, sides, base: 'e2', seen: ['e1'] };
}

const settled = (noun: string, field: string, value: unknown) => {
  const made = card(noun, field, value);
  const [side] = made.sides;
  if (!side) throw new Error('no side');
  return settling(made, side);
};

test('the edit starts from the last side, has seen the others, and changes that field alone', () => {
  expect(settled('joint', 'name', 'Left nut')).toEqual({
    kind: 'joint-edited', site: 's', fixture: 'f', of: 'n', base: 'e2', body: { name: 'Left nut', seen: ['e1'] },
  });
  expect(settled('look', 'result', 'none')).toMatchObject({ kind: 'look-amended', of: 'n', body: { result: 'none', seen: ['e1'] } });
  expect(settled('fixture', 'note', '')).toMatchObject({ kind: 'fixture-edited', of: 'f', body: { note: '', seen: ['e1'] } });
});

test('where a fixture stands is a move, and a program is one field', () => {
  expect(settled('fixture', 'site', 's2')).toMatchObject({ kind: 'fixture-moved', site: 's', body: { site: 's2', seen: ['e1'] } });
  const program = settled('program', 'program', { name: 'Air', fill: 3 });
  expect(program).toMatchObject({ kind: 'program-set', base: 'e2', body: { name: 'Air', fill: 3, seen: ['e1'] } });
  expect(program).not.toHaveProperty('of');
});

test('one of two joints of a name gets the free one, or is retired; the other is left alone', () => {
  const twins = { ...card('joint', 'twin', null), free: 'Nut (2)' };
  const joint = { id: 'j2', event: 'e9', seen: ['e8'], name: 'Nut', kind: 'flared', circuit: 'test', order: 1, mark: 'blank' as const, history: [] };
  const about = { site: 's', fixture: 'f', of: 'j2', base: 'e9' };
  expect(renaming(twins, joint)).toEqual({ kind: 'joint-edited', ...about, body: { name: 'Nut (2)', seen: ['e8'] } });
  expect(retiring(twins, joint, 'twice')).toEqual({ kind: 'joint-retired', ...about, body: { why: 'twice' } });
});
