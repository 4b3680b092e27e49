import type { Finding, Observation, Size } from '../../engine/types';
import { Button } from '../../ui';
import { num, said, t } from '../../words';
import { Facts } from './Facts';

interface Props {
  finding: Finding;
  /** Opens the correction; none where nothing was counted. */
  onCorrect: (() => void) | undefined;
}

/** What was observed, raw, as it was entered. */
export function Seen({ finding, onCorrect }: Props) {
  const { observation, wiped, note } = finding;
  return (
    <section class="finding-part" aria-label={t('finding.seen')}>
      <h2>{t('finding.seen')}</h2>
      {observation === undefined && <p>{t('finding.nothing-counted')}</p>}
      <Facts
        facts={[
          ...(observation ? raw(observation) : []),
          [t('finding.wiped'), wiped && said('wiped', wiped)],
          [t('finding.note'), note],
        ]}
      />
      {onCorrect && (
        <Button kind="quiet" onPress={onCorrect}>
          {t('finding.correct')}
        </Button>
      )}
    </section>
  );
}

function raw(seen: Observation): (readonly [string, string])[] {
  return [
    [t('finding.bubbles'), counted(seen)],
    [t('finding.how'), said('how', seen.how)],
    [t('finding.medium'), said('medium', seen.medium)],
    [t('finding.size'), sizeWords(seen.size)],
  ];
}

/** The count as it was entered. */
function counted({ how, count, seconds, taps }: Observation): string {
  if (how === 'taps') return t('finding.count-taps', { n: taps?.length ?? 0, seconds: taps?.at(-1) ?? 0 });
  return t(how === 'ten' ? 'finding.count-ten' : 'finding.count-window', { n: count ?? 0, seconds: seconds ?? 0 });
}

function sizeWords({ as, share, tube, diameter }: Size): string {
  if (as === 'tube' && tube) {
    return t('finding.size-share', { share: share ?? 0, tube: num(tube.value), unit: said('unit', tube.unit) });
  }
  return diameter ? t('finding.size-diameter', { value: num(diameter.value), unit: said('unit', diameter.unit) }) : '';
}
