import type { Finding, Observation } from '../../engine/types';
import { Button } from '../../ui';
import { said, t } from '../../words';
import { Facts } from './Facts';
import { counted, sizeWords } from './observed';

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
