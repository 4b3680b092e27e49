import type { RoundJoint } from '../../engine/types';
import { Mark } from '../../ui';
import { said, t } from '../../words';

const missed = ['half', 'dash', 'blank'];

/** The joints that this round did not see, or only partly, and why. */
export function Missed({ joints }: { joints: readonly RoundJoint[] }) {
  const list = joints.filter((joint) => missed.includes(joint.mark));
  if (list.length === 0) return null;
  return (
    <section>
      <h2>{t('end.missed')}</h2>
      <ol>
        {list.map((joint) => (
          <li key={joint.id} class="missed">
            <span>{joint.name}</span>
            <Mark mark={joint.mark} word={reason(joint)} />
          </li>
        ))}
      </ol>
    </section>
  );
}

function reason(joint: RoundJoint): string {
  const mark = said('mark', joint.mark);
  const why = joint.why ? said('why', joint.why) : joint.less && said('less', joint.less);
  return why ? t('end.missedWhy', { mark, why }) : mark;
}
