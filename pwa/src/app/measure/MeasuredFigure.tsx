import type { Estimate, Measure } from '../../engine/types';
import { num, said, t } from '../../words';
import { EstimateView } from '../leak/EstimateView';

interface Props {
  measured: Measure | undefined;
  estimate: Estimate | undefined;
}

/** The diameter with its interval, what it makes of the leak, and what it is least sure of; or why it cannot be said. */
export function MeasuredFigure({ measured, estimate }: Props) {
  if (measured === undefined) return null;
  if (measured.diameter === undefined) return <p class="wrong" role="alert">{said('cannot', measured.cannotSay ?? '')}</p>;
  const { diameter, low, high, dominant } = measured;
  return (
    <>
      <figure class="figure" aria-live="polite">
        <div class="value">
          <strong>{num(diameter)}</strong>
          <span>{said('unit', 'mm')}</span>
        </div>
        <p class="small soft">{t('figure.interval', { low: low ?? '', high: high ?? '' })}</p>
      </figure>
      {dominant && <p class="small">{t('measure.dominant', { input: said('measured', dominant) })}</p>}
      {estimate && <EstimateView estimate={estimate} low />}
    </>
  );
}
