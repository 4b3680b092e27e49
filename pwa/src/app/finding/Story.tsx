import type { Step } from '../../engine/types';
import { known, said, t } from '../../words';
import { who } from '../stamp';

/** What happened to a finding, oldest first. */
export function Story({ steps }: { steps: readonly Step[] }) {
  return (
    <section class="finding-part" aria-label={t('finding.story')}>
      <h2>{t('finding.story')}</h2>
      <ol class="story">
        {steps.map((step) => (
          <li key={step.event} class={step.off ? 'off' : undefined}>
            <p>
              <span class="strong">{said('step', step.what)}</span> {codes(step)}
              {step.off && <span class="soft"> ({t('step.off')})</span>}
            </p>
            {step.spare && <p>{t('mend.with', { spare: step.spare })}</p>}
            {step.note && <p>{step.note}</p>}
            <p class="small soft">{who(step.who)}</p>
          </li>
        ))}
      </ol>
    </section>
  );
}

const families = ['result', 'sign', 'obstacle', 'when', 'cause', 'action', 'verdict', 'wiped', 'vented', 'state'] as const;

/** The codes of a step in words; which family each is of follows from the code. */
function codes({ codes: all }: Step): string {
  return (all ?? []).map((code) => said(families.find((family) => known(family, code)) ?? 'result', code)).join(', ');
}
