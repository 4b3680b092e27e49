import { useLocation, useRoute } from 'preact-iso';
import { useState } from 'preact/hooks';
import { useAsk } from '../../engine/client';
import type { Conditions, Fixture } from '../../engine/types';
import { Button, Caution, Page } from '../../ui';
import { t } from '../../words';
import { Answered } from '../Answered';
import { useSaving } from '../save';
import { TabWarning } from '../start/Tab';
import { asInput, complete, describe, type Input } from './conditions';
import { ConditionsForm } from './ConditionsForm';
import './round.css';

/** /f/:id/round: same as last time? The cautions, then the start. */
export function RoundStart() {
  const id = useRoute().params.id ?? '';
  const asked = useAsk('fixture', { id });
  return (
    <Answered asked={asked} back={`/f/${id}`}>
      {(fixture) => <Start fixture={fixture} />}
    </Answered>
  );
}

function Start({ fixture }: { fixture: Fixture }) {
  const { route } = useLocation();
  const { problem, save } = useSaving();
  const [changing, setChanging] = useState(fixture.last === undefined);
  const [input, setInput] = useState<Input>(() => asInput(fixture.last));
  const conditions = complete(input);
  const start = async () => {
    if (conditions === null) return;
    const body = { program: fixture.program?.id ?? '', conditions };
    const written = await save([{ kind: 'round-started', site: fixture.site, fixture: fixture.id, body }]);
    const round = written?.[0]?.of;
    if (round !== undefined) route(`/r/${round}`, true);
  };
  return (
    <Page title={fixture.name} back={`/f/${fixture.id}`} act={<Act ready={conditions !== null} onStart={start} />}>
      {problem !== null && <p class="wrong" role="alert">{problem}</p>}
      <TabWarning how="/" />
      {changing ? (
        <ConditionsForm input={input} onChange={setInput} />
      ) : (
        <SameAgain conditions={conditions} onChange={() => setChanging(true)} first={fixture.rounds.length === 0} />
      )}
      <Caution codes={[...fixture.cautions.filter((code) => code !== 'wetting'), 'rules']} />
    </Page>
  );
}

function Act({ ready, onStart }: { ready: boolean; onStart: () => Promise<void> }) {
  return (
    <Button kind="main" disabled={!ready} onPress={() => void onStart()}>
      {t(ready ? 'round.start' : 'round.incomplete')}
    </Button>
  );
}

interface SameProps {
  conditions: Conditions | null;
  first: boolean;
  onChange: () => void;
}

function SameAgain({ conditions, first, onChange }: SameProps) {
  if (conditions === null) return null;
  return (
    <section class="same">
      <h2>{t(first ? 'round.suggested' : 'round.same')}</h2>
      <p class="strong">{describe(conditions)}</p>
      <Button kind="quiet" onPress={onChange}>
        {t('round.change')}
      </Button>
    </section>
  );
}
