import type { Finding } from '../../engine/types';
import { t } from '../../words';

/** The figure that stood on the phone beside what is computed here from what was seen. */
export function Check({ finding }: { finding: Finding }) {
  const { shown, agrees, estimate } = finding;
  const here = estimate.figure?.molPerSecond;
  return (
    <section class="finding-part" aria-label={t('finding.check')}>
      <h2>{t('finding.check')}</h2>
      {shown === undefined || here === undefined ? (
        <p>{t('finding.check-none')}</p>
      ) : (
        <>
          <p class="strong">{t(agrees ? 'finding.check-same' : 'finding.check-differs')}</p>
          <Both phone={[shown.median, shown.low, shown.high]} here={here} />
        </>
      )}
    </section>
  );
}

const rows = ['median', 'low', 'high'] as const;

function Both({ phone, here }: { phone: readonly number[]; here: readonly number[] }) {
  return (
    <table class="table both">
      <thead>
        <tr>
          <td>{t('finding.molar')}</td>
          <th scope="col">{t('finding.on-phone')}</th>
          <th scope="col">{t('finding.here')}</th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row, i) => (
          <tr key={row}>
            <th scope="row">{t(`finding.${row}`)}</th>
            <td class="number">{molar(phone[i])}</td>
            <td class="number">{molar(here[i])}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** Enough digits to see that two computations are one. */
function molar(value: number | undefined): string {
  return value === undefined ? '' : value.toExponential(6);
}
