import type { Round } from '../../engine/types';
import { Button } from '../../ui';
import { listed, t } from '../../words';
import { nameOf, timeOf } from '../stamp';
import './round.css';

/** What else is so with a round: another one beside it, another program since, or that it was left open. */
export function Notices({ round }: { round: Round }) {
  const { others = [], changed, left, ended } = round;
  return (
    <>
      {others.map((other) => (
        <p key={other.id} class="notice small">
          <a href={`/r/${other.id}`}>
            {t('running.other', { person: nameOf(other.started), time: timeOf(other.started), done: other.done, all: other.all })}
          </a>
        </p>
      ))}
      {changed && <p class="notice small">{t('running.changed', { time: timeOf(changed), person: nameOf(changed) })}</p>}
      {left && ended === undefined && <p class="notice">{t('running.left', { time: timeOf(left) })}</p>}
    </>
  );
}

/** Joints that work on another may have moved: one press puts them into the next group. */
export function Moved({ round, chosen, onAgain }: { round: Round; chosen: readonly string[]; onAgain: (joints: string[]) => void }) {
  const nameOfJoint = (id: string) => round.joints.find((joint) => joint.id === id)?.name ?? '';
  const asking = round.joints.filter(({ moved = [] }) => moved.some((id) => !chosen.includes(id)));
  return (
    <>
      {asking.map(({ id, name, moved = [] }) => (
        <section key={id} class="notice">
          <p>{t('moved.says', { n: moved.length, joint: name, names: listed(moved.map(nameOfJoint)) })}</p>
          <Button onPress={() => onAgain(moved)}>{t('moved.act', { n: moved.length })}</Button>
        </section>
      ))}
    </>
  );
}
