import type { Finding, Observation } from '../../engine/types';
import { Button } from '../../ui';
import { type Code, said, t } from '../../words';
import { Facts } from './Facts';
import { counted, headWords, heightWords, sizesWords } from './observed';

interface Props {
  finding: Finding;
  /** Opens the correction; none where nothing was counted. */
  onCorrect: (() => void) | undefined;
}

/** What was observed, raw, as it was entered. */
export function Seen({ finding, onCorrect }: Props) {
  const { observation, wiped, vented, rewets, note } = finding;
  return (
    <section class="finding-part" aria-label={t('finding.seen')}>
      <h2>{t('finding.seen')}</h2>
      {observation === undefined && <p>{t('finding.nothing-counted')}</p>}
      <Facts
        facts={[
          ...(observation ? raw(observation) : []),
          [t('finding.wiped'), wiped && said('wiped', wiped)],
          [t('finding.vented'), vented && said('vented', vented)],
          [t('finding.rewets'), rewets ? t('finding.rewetsTimes', { n: rewets }) : ''],
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
    [t(first[seen.how] ?? 'finding.bubbles'), counted(seen)],
    [t('finding.how'), said('how', seen.how)],
    [t('finding.medium'), said('medium', seen.medium)],
    [t('finding.size'), sizesWords(seen)],
    [t('finding.head'), headWords(seen)],
    [t('finding.height'), heightWords(seen)],
  ];
}

/** What the first fact is called where no bubbles were counted. */
const first: Readonly<Record<string, Code>> = { collected: 'finding.volume', class: 'finding.class', dome: 'finding.grew', froth: 'finding.grew' };
