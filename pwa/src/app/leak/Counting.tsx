import { vocabulary, type Observation, type Round, type RoundJoint } from '../../engine/types';
import { useEffect, useRef } from 'preact/hooks';
import { Button, byKeys, Caution, Choice, Page } from '../../ui';
import { said, t } from '../../words';
import { useAwake } from '../useAwake';
import { CountAct } from './CountAct';
import { CountZone } from './CountZone';
import { EstimateMore, EstimateView } from './EstimateView';
import { Narrower } from './Narrower';
import { again, counts, isSized, type LeakDraft, observed } from './observation';
import { sizes } from './size';
import { SizePick } from './SizePick';
import { Tried } from './Tried';
import { useEstimate } from './useEstimate';

interface Props {
  round: Round;
  joint: RoundJoint;
  draft: LeakDraft;
  onDraft: (draft: LeakDraft) => void;
  /** What went wrong at the last save, in words. */
  problem: string | null;
  saveWords: string;
  onSave: (observation: Observation) => Promise<void>;
  /** Too large to count; left out where that makes no sense. */
  onGross?: () => Promise<void>;
}

/** The screen of one leak: what it says stands above, the size and the count below, the act at the thumb. */
export function Counting({ round, joint, draft, onDraft, problem, saveWords, onSave, onGross }: Props) {
  const observation = observed(draft, joint.tube);
  const answer = useEstimate(round.id, joint.id, observation);
  const estimate = observation === null ? null : (answer?.estimate ?? null);
  useAwake(draft.startedAt !== null);
  useOnward(draft);
  const put = (part: Partial<LeakDraft>) => onDraft({ ...draft, ...part });
  const sizeAgain = () => {
    put({ sizing: sizes(draft).length, target: null });
    toSizes();
  };
  const keep = () => (observation === null ? undefined : void onSave(observation));
  const act = (
    <>
      <Narrower estimate={estimate} onSize={sizeAgain} onCount={() => onDraft(again(draft))} />
      <CountAct draft={draft} onDraft={onDraft} cannot={estimate?.cannotSay} saveWords={saveWords} onSave={keep} />
    </>
  );
  return (
    <Page title={joint.name} back={`/r/${round.id}`} help="count" act={act}>
      <div class="leak">
        {problem !== null && <p class="wrong" role="alert">{problem}</p>}
        <div class="leak-figure">
          {estimate === null ? <p class="soft">{said('leak.hint', draft.how)}</p> : <EstimateView estimate={estimate} low />}
        </div>
        {isSized(draft.how) && (
          <SizePick tube={joint.tube} draft={draft} onDraft={onDraft} />
        )}
        <CountZone draft={draft} onDraft={onDraft} />
        <EstimateMore estimate={estimate} quiet />
        <Details draft={draft} put={put} />
        {onGross && <Gross onGross={onGross} />}
      </div>
    </Page>
  );
}

/** Once it is counted, keys go on with what is missing: the number that is asked, the size, or the act. */
function useOnward({ counted, target, size }: LeakDraft) {
  const before = useRef(counted);
  useEffect(() => {
    const next = target !== null ? '.number-field[aria-pressed=true]' : size === null ? '.sizes button' : 'footer.act';
    if (counted && !before.current && byKeys()) document.querySelector<HTMLElement>(next)?.focus();
    before.current = counted;
  }, [counted]);
}

/** Brings the sizes into sight and under the thumb's next press. */
function toSizes() {
  const first = document.querySelector<HTMLElement>('.sizes button');
  first?.scrollIntoView({ block: 'center' });
  first?.focus({ preventScroll: true });
}

function Details({ draft, put }: { draft: LeakDraft; put: (part: Partial<LeakDraft>) => void }) {
  return (
    <>
      <Tried tried={draft} put={put} />
      {(counts(draft.how) || draft.how === 'class') && (
        <Choice
          legend={t('leak.medium')}
          slim
          options={vocabulary.solutions.map((value) => ({ value, words: said('medium', value) }))}
          value={draft.medium}
          onChoose={(medium) => put({ medium })}
        />
      )}
    </>
  );
}

function Gross({ onGross }: { onGross: () => Promise<void> }) {
  return (
    <>
      <Button kind="quiet" onPress={() => void onGross()}>
        {t('leak.gross')}
      </Button>
      <Caution codes={['gross']} />
    </>
  );
}
