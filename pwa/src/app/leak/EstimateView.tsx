import type { Estimate } from '../../engine/types';
import { Figure, share } from '../../ui';
import { said, t } from '../../words';

/** What an estimate says: the figure, its shares, what its width comes from, what to mind. */
export function EstimateView({ estimate }: { estimate: Estimate | null }) {
  if (estimate === null) return <p class="soft">{t('leak.begin')}</p>;
  if (estimate.cannotSay) {
    return (
      <p class="wrong" role="alert">
        {said('cannot', estimate.cannotSay)}
      </p>
    );
  }
  return (
    <div class="estimate" aria-live="polite">
      {estimate.figure && <Figure figure={estimate.figure} />}
      <Shares estimate={estimate} />
    </div>
  );
}

function Shares({ estimate }: { estimate: Estimate }) {
  if (!estimate.share) return null;
  return (
    <p>
      <span class="strong">{t('leak.ofLimit', { share: share(estimate.share) })}</span>
      {estimate.ofAllowance && (
        <span class="small soft"> · {t('leak.ofAllowance', { share: share(estimate.ofAllowance) })}</span>
      )}
    </p>
  );
}

/** The rest of an estimate: what to mind, what would narrow it, the flow around the joint. */
export function EstimateMore({ estimate }: { estimate: Estimate | null }) {
  if (estimate === null || estimate.cannotSay) return null;
  return (
    <div class="estimate-more small">
      {(estimate.warnings ?? []).map((code) => (
        <p key={code} class="warning">
          {said('warning', code)}
        </p>
      ))}
      {estimate.flow && <p>{t('leak.flow', { ...estimate.flow })}</p>}
      <p>
        {estimate.dominant && t('leak.dominant', { input: said('input', estimate.dominant) })}{' '}
        {estimate.advice && said('advice', estimate.advice)}
      </p>
      <p class="soft">{t('leak.locates')}</p>
    </div>
  );
}
