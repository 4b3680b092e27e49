import { useRoute } from 'preact-iso';
import { useState } from 'preact/hooks';
import { useAsk } from '../../engine/client';
import type { Finding as FindingAnswer } from '../../engine/types';
import { Button, Figure, Mark, Page } from '../../ui';
import { num, said, t } from '../../words';
import { Answered } from '../Answered';
import { corrects, reviews } from '../duty';
import { Amend } from './Amend';
import { Budget } from './Budget';
import { Check } from './Check';
import { Conditions } from './Conditions';
import '../desk/desk.css';
import './finding.css';
import { Mended } from './Mended';
import { AddNote } from '../notes/Notes';
import { Pictures } from './Pictures';
import { Review } from './Review';
import { Seen } from './Seen';
import { sentence } from './sentence';
import { Story } from './Story';
import { nameOf, timeOf } from '../stamp';

/** /finding/:id: one finding in whole, the sentence first, and what can be done with it. */
export function Finding() {
  const id = useRoute().params.id ?? '';
  const asked = useAsk('finding', { id });
  return <Answered asked={asked} back="/findings">{(finding) => <Whole finding={finding} />}</Answered>;
}

function Whole({ finding }: { finding: FindingAnswer }) {
  const [amending, setAmending] = useState(false);
  const { card, observation } = finding;
  return (
    <Page
      title={card.fixtureName}
      back="/findings"
      act={reviews(finding.site) ? <Review finding={finding} /> : null}
    >
      <div class="finding-lead">
        <p class="strong">{sentence(card)}</p>
        <Mark mark={card.mark} word={said('state', card.state)} />
        <p class="small soft">{t('finding.seen-by', { time: timeOf(card.seen), name: nameOf(card.seen) })}</p>
        {card.review && <p>{t('finding.reviewed', { verdict: said('verdict', card.review) })}</p>}
      </div>
      <div class="finding-parts">
        <div class="finding-main">
          <Estimate finding={finding} />
          <Seen finding={finding} onCorrect={observation && corrects(card.seen.by, finding.site) ? () => setAmending(true) : undefined} />
          <Pictures finding={finding} />
          <Mended finding={finding} />
          <Story steps={finding.story} />
          <AddNote place={{ site: finding.site, fixture: card.fixture, of: card.id }} title={t('note.of', { name: card.jointName })} />
        </div>
        <div class="finding-side">
          <Check finding={finding} />
          <Budget estimate={finding.estimate} />
          <Conditions finding={finding} />
          <Button kind="quiet" href={`/f/${card.fixture}`}>
            {t('finding.to-fixture')}
          </Button>
        </div>
      </div>
      {amending && observation && <Amend finding={finding} observation={observation} onClose={() => setAmending(false)} />}
    </Page>
  );
}

function Estimate({ finding: { estimate } }: { finding: FindingAnswer }) {
  const { figure, share, ofAllowance, flow } = estimate;
  return (
    <section class="finding-figure" aria-label={t('findings.rate')}>
      {figure ? <Figure figure={figure} /> : <p>{said('cannot', estimate.cannotSay ?? '')}</p>}
      {share && <p>{t('finding.share', { ...share })}</p>}
      {ofAllowance && <p>{t('finding.allowance', { ...ofAllowance })}</p>}
      {flow && (
        <p class="small soft">
          {t('finding.flow')}: {t('finding.flow-value', { median: num(flow.median), low: num(flow.low), high: num(flow.high) })}
        </p>
      )}
      {estimate.warnings?.map((code) => (
        <p key={code} class="small strong">
          {said('warning', code)}
        </p>
      ))}
      {estimate.byEye && <p class="small soft">{t('finding.rough')}</p>}
    </section>
  );
}
