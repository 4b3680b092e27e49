import type { Estimate } from '../../engine/types';
import { said, t } from '../../words';

/** Which input the width of the interval comes from, and what would narrow it. */
export function Budget({ estimate }: { estimate: Estimate }) {
  const { budget, advice } = estimate;
  if (budget === undefined || budget.length === 0) return null;
  return (
    <section class="finding-part" aria-label={t('finding.budget')}>
      <h2>{t('finding.budget')}</h2>
      <ul class="budget">
        {budget.map(({ input, percent }) => (
          <li key={input}>
            <span>{said('input', input)}</span>
            <span class="number">{percent} %</span>
            <progress max={100} value={percent} aria-label={said('input', input)} />
          </li>
        ))}
      </ul>
      {advice && <p class="small">{said('advice', advice)}</p>}
    </section>
  );
}
