import { vocabulary, type Observation, type Round, type RoundJoint } from '../../engine/types';
import { Button, Caution, Choice, Page } from '../../ui';
import { said, t } from '../../words';
import { useAwake } from '../useAwake';
import { CountAct } from './CountAct';
import { CountZone } from './CountZone';
import { EstimateMore, EstimateView } from './EstimateView';
import { type LeakDraft, observed } from './observation';
import { SizePick } from './SizePick';
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
  const put = (part: Partial<LeakDraft>) => onDraft({ ...draft, ...part });
  const act = (
    <CountAct
      draft={draft}
      onDraft={onDraft}
      cannot={estimate?.cannotSay}
      saveWords={saveWords}
      onSave={() => (observation === null ? undefined : void onSave(observation))}
    />
  );
  return (
    <Page title={joint.name} back={`/r/${round.id}`} act={act}>
      <div class="leak">
        {problem !== null && <p class="wrong" role="alert">{problem}</p>}
        <div class="leak-figure">
          {estimate === null ? (
            <p class="soft">{said('leak.hint', draft.how)}</p>
          ) : (
            <EstimateView estimate={estimate} low />
          )}
        </div>
        <SizePick
          tube={joint.tube}
          size={draft.size}
          onSize={(size) => put({ size, target: draft.target === 'size' ? null : draft.target })}
          onType={() => put({ size: { as: 'diameter', text: '' }, target: 'size' })}
        />
        <CountZone draft={draft} onDraft={onDraft} />
        <EstimateMore estimate={estimate} />
        <Details draft={draft} put={put} />
        {onGross && <Gross onGross={onGross} />}
      </div>
    </Page>
  );
}

function Details({ draft, put }: { draft: LeakDraft; put: (part: Partial<LeakDraft>) => void }) {
  return (
    <>
      <Choice
        legend={t('leak.wiped')}
        slim
        options={vocabulary.wipes.map((value) => ({ value, words: said('leak.wiped', value) }))}
        value={draft.wiped}
        onChoose={(wiped) => put({ wiped })}
      />
      <Choice
        legend={t('leak.medium')}
        slim
        options={vocabulary.solutions.map((value) => ({ value, words: said('medium', value) }))}
        value={draft.medium}
        onChoose={(medium) => put({ medium })}
      />
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
