import type { Round, RoundJoint } from '../../engine/types';
import { Button, MarkShape } from '../../ui';
import { num, said, t } from '../../words';
import { spotPath } from './spots';

interface Props {
  round: Round;
  /** The joint as a whole. */
  joint: RoundJoint;
  /** The finding that is shown. */
  finding: string;
}

/** The other spots of a joint, and the way to one more. */
export function Spots({ round, joint, finding }: Props) {
  const all = joint.spots ?? [];
  return (
    <section class="spots">
      {all.length > 1 && (
        <>
          <h2 class="small soft">{t('leak.spotsHere')}</h2>
          {all.filter((one) => one.finding !== finding).map((one) => (
            <Button key={one.finding} kind="quiet" href={spotPath(round, joint.id, one.named ?? '')}>
              <span class="mark">
                <MarkShape mark={one.mark} />
                {[t('leak.spotShort', { spot: one.spot ?? '' }), said('state', one.state), rate(one.figure)].filter(Boolean).join(' · ')}
              </span>
            </Button>
          ))}
        </>
      )}
      <Button kind="quiet" href={spotPath(round, joint.id, joint.nextSpot ?? '')}>
        {t('leak.another')}
      </Button>
    </section>
  );
}

function rate(figure: RoundJoint['figure']): string {
  return figure ? `${num(figure.median)} ${said('unit', figure.unit)}` : '';
}
