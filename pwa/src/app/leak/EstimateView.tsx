import type { Estimate } from '../../engine/types';
import { Figure, share } from '../../ui';
import { said, t } from '../../words';

interface Props {
  estimate: Estimate;
  /** While counting: no numbers on the bar, so that all stays in sight. */
  low?: boolean;
}

/** What an estimate says: the figure and its share of the limit, or why nothing can be said. */
export function EstimateView({ estimate, low = false }: Props) {
  if (estimate.cannotSay) {
    return (
      <p class="wrong" role="alert">
        {said('cannot', estimate.cannotSay)}
      </p>
    );
  }
  return (
    <div class="estimate" aria-live="polite">
      {estimate.figure && <Figure figure={estimate.figure} low={low} />}
      {estimate.share && <p class="strong">{t('leak.ofLimit', { share: share(estimate.share) })}</p>}
    </div>
  );
}

/** The rest of an estimate: what to mind, what would narrow it unless that is said elsewhere, the flow around the joint. */
export function EstimateMore({ estimate, quiet = false }: { estimate: Estimate | null; quiet?: boolean }) {
  if (estimate === null || estimate.cannotSay) return null;
  return (
    <div class="estimate-more small">
      {(estimate.warnings ?? []).map((code) => (
        <p key={code} class="warning">
          {said('warning', code)}
        </p>
      ))}
      {estimate.ofAllowance && <p>{t('leak.ofAllowance', { share: share(estimate.ofAllowance) })}</p>}
      {estimate.flow && <p>{t('leak.flow', { ...estimate.flow })}</p>}
      <p>
        {estimate.dominant && t('leak.dominant', { input: said('input', estimate.dominant) })}{' '}
        {!quiet && estimate.advice && said('advice', estimate.advice)}
      </p>
      {estimate.byEye && <p class="soft">{t('leak.locates')}</p>}
    </div>
  );
}
