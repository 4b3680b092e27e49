import { Button, Mark, Strip } from '../../../ui';
import { num, said, t } from '../../../words';
import type { JointCard } from '../../../engine/types';
import type { JointActs } from './Joints';

/** How many of a joint's last looks a row shows. */
const shown = 6;

/** The joints as a table, for a desk. */
export function JointTable({ joints, onMove, onEdit }: JointActs) {
  if (joints.length === 0) return null;
  return (
    <table class="table joints">
      <thead>
        <tr>
          <th scope="col">{t('joints.order')}</th>
          <th scope="col">{t('joints.name')}</th>
          <th scope="col">{t('joints.kind')}</th>
          <th scope="col">{t('joints.circuit')}</th>
          <th scope="col">{t('joints.size')}</th>
          <th scope="col">{t('joints.looks')}</th>
          <th scope="col">{t('joints.act')}</th>
        </tr>
      </thead>
      <tbody>
        {joints.map((joint, at) => (
          <tr key={joint.id}>
            <td>
              <Moves joint={joint} at={at} last={joints.length - 1} onMove={onMove} />
            </td>
            <th scope="row">
              {joint.name}
              {joint.run && <span class="soft"> {t('joints.on-run', { run: joint.run })}</span>}
            </th>
            <td>{said('kind', joint.kind)}</td>
            <td>{said('circuit', joint.circuit)}</td>
            <td class="number">{sizeWords(joint)}</td>
            <td>{joint.history.length === 0 ? <Mark mark={joint.mark} /> : <Strip looks={joint.history.slice(-shown)} />}</td>
            <td>
              <Button kind="plain" label={t('joints.edit-of', { name: joint.name })} onPress={() => onEdit(joint)}>
                {t('joints.edit')}
              </Button>
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** A joint's size with its unit; nothing where it is not known. */
export function sizeWords({ tube }: JointCard): string {
  return tube ? `${num(tube.value)} ${said('unit', tube.unit)}` : '';
}

interface MovesProps {
  joint: JointCard;
  at: number;
  last: number;
  onMove: JointActs['onMove'];
}

/** The two buttons that move a joint one place. */
export function Moves({ joint, at, last, onMove }: MovesProps) {
  return (
    <span class="moves">
      <button type="button" aria-label={t('joints.up', { name: joint.name })} disabled={at === 0} onClick={() => onMove(at, -1)}>
        <Arrow points="M12 19V5M5 12l7-7 7 7" />
      </button>
      <button
        type="button"
        aria-label={t('joints.down', { name: joint.name })}
        disabled={at === last}
        onClick={() => onMove(at, 1)}
      >
        <Arrow points="M12 5v14M5 12l7 7 7-7" />
      </button>
    </span>
  );
}

function Arrow({ points }: { points: string }) {
  return (
    <svg viewBox="0 0 24 24" aria-hidden="true" focusable="false">
      <path d={points} fill="none" stroke="currentColor" stroke-width="2.6" />
    </svg>
  );
}
