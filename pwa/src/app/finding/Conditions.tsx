import type { Amount, Finding } from '../../engine/types';
import { num, said, t } from '../../words';
import { Facts } from './Facts';

/** The conditions of the round in which it was seen. */
export function Conditions({ finding }: { finding: Finding }) {
  const { gas, pressure, ambient, barometer, solution, wetted, setup } = finding.conditions;
  return (
    <section class="finding-part" aria-label={t('finding.conditions')}>
      <h2>{t('finding.conditions')}</h2>
      <Facts
        facts={[
          [t('finding.pressure'), amount(pressure)],
          [t('finding.gas'), said('gas', gas)],
          [t('finding.ambient'), amount(ambient)],
          [t('finding.barometer'), barometer ? amount(barometer) : t('finding.barometer-usual')],
          [t('finding.solution'), said('solution', solution)],
          [t('finding.wetted'), said('wetted', wetted)],
          [t('finding.setup'), setup],
          [t('finding.program'), finding.program?.program.name],
        ]}
      />
    </section>
  );
}

function amount({ value, unit }: Amount): string {
  return `${num(value)} ${said('unit', unit)}`;
}
