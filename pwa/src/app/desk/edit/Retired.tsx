import type { JointCard } from '../../../engine/types';
import { Strip } from '../../../ui';
import { said, t } from '../../../words';

/** The joints that are looked at no more, with their history. */
export function Retired({ joints }: { joints: readonly JointCard[] }) {
  if (joints.length === 0) return null;
  return (
    <details class="more">
      <summary>{t('joints.retired', { n: joints.length })}</summary>
      <ul class="desk-rows">
        {joints.map((joint) => (
          <li key={joint.id} class="joint-row">
            <div>
              <p>{joint.name}</p>
              <p class="small soft">{said('kind', joint.kind)}</p>
            </div>
            <Strip looks={joint.history} />
          </li>
        ))}
      </ul>
    </details>
  );
}
