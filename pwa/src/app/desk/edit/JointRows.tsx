import { Button } from '../../../ui';
import { said, t } from '../../../words';
import type { JointActs } from './Joints';
import { Moves, sizeWords } from './JointTable';

/** The joints as rows, for a phone. */
export function JointRows({ joints, onMove, onEdit }: JointActs) {
  return (
    <ol class="desk-rows">
      {joints.map((joint, at) => (
        <li key={joint.id} class="joint-row">
          <div>
            <p class="strong">{joint.name}</p>
            <p class="small soft">
              {[said('kind', joint.kind), said('circuit', joint.circuit), sizeWords(joint), joint.run && t('joints.on-run', { run: joint.run })].filter(Boolean).join(' · ')}
            </p>
          </div>
          <div class="joint-row-acts">
            <Moves joint={joint} at={at} last={joints.length - 1} onMove={onMove} />
            <Button kind="plain" label={t('joints.edit-of', { name: joint.name })} onPress={() => onEdit(joint)}>
              {t('joints.edit')}
            </Button>
          </div>
        </li>
      ))}
    </ol>
  );
}
