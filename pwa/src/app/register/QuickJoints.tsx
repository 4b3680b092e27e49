import { useRoute } from 'preact-iso';
import { useState } from 'preact/hooks';
import { useAsk } from '../../engine/client';
import { type Fixture, vocabulary } from '../../engine/types';
import { Button, Choice, Field, Page, Select } from '../../ui';
import { said, t } from '../../words';
import { Answered } from '../Answered';
import { options } from '../desk/edit/options';
import { records } from '../duty';
import { offerWithdrawal, useSaving } from '../save';
import { useDraft } from '../useDraft';
import { CopyFrom } from './CopyFrom';
import { again, beginning, called, draftOf, type Next } from './joint';
import './register.css';

/** /f/:id/joints: a fixture's joints, one press each: the same again steps the name. */
export function QuickJoints() {
  const id = useRoute().params.id ?? '';
  const asked = useAsk('fixture', { id });
  return <Answered asked={asked} back={`/f/${id}`}>{(fixture) => <Quick fixture={fixture} />}</Answered>;
}

function Quick({ fixture }: { fixture: Fixture }) {
  const { value: next, set } = useDraft<Next>(`joints/${fixture.id}`, () => beginning(fixture));
  const { problem, save } = useSaving();
  const [copied, setCopied] = useState(false); // then all are there, mostly
  if (next === null) return null;
  const name = called(next, said('kind', next.kind), fixture.joints);
  const draft = draftOf(next, name, fixture);
  const add = async () => {
    const written = draft && (await save([draft]));
    if (!written) return;
    set(again(next, name, draft.body.order));
    offerWithdrawal(t('joints.added', { name }), fixture.site, written, () => set(next));
  };
  const done = copied && fixture.joints.length > 0;
  const leave = fixture.joints.length > 0 && <Button kind={done ? 'main' : 'ordinary'} href={`/f/${fixture.id}`}>{t('register.done')}</Button>;
  const more = (
    <Button kind={done ? 'ordinary' : 'main'} disabled={draft === null || name.trim() === ''} onPress={() => void add()}>
      {t('register.add', { name })}
    </Button>
  );
  const act = <div class="beside">{done ? [more, leave] : [leave, more]}</div>; // the main act where it always is
  return (
    <Page title={fixture.name} back={`/f/${fixture.id}`} act={records(fixture.site) ? act : null}>
      <div class="says lead">
        <p>{fixture.joints.length === 0 ? t('register.none') : t('fixture.joints', { n: fixture.joints.length })}</p>
      </div>
      {problem !== null && <p class="wrong" role="alert">{problem}</p>}
      {records(fixture.site) ? <Form fixture={fixture} next={next} name={name} set={set} onCopied={() => setCopied(true)} /> : <p class="wrong">{t('register.not-allowed')}</p>}
      <List fixture={fixture} />
    </Page>
  );
}

interface FormProps {
  fixture: Fixture;
  next: Next;
  name: string;
  set: (next: Next) => void;
  onCopied: () => void;
}

function Form({ fixture, next, name, set, onCopied }: FormProps) {
  const [copying, setCopying] = useState(false);
  return (
    <section class="register">
      <Select label={t('joints.kind')} options={options('kind', vocabulary.jointKinds)} value={next.kind} onChoose={(kind) => set({ ...next, kind, name: null })} />
      <Field label={t('joints.name')} value={next.name ?? name} onInput={(typed) => set({ ...next, name: typed })} />
      <details class="more">
        <summary>{[said('circuit', next.circuit), next.size === '' ? t('register.no-size') : `${next.size} ${said('unit', next.unit)}`].join(' · ')}</summary>
        <Details next={next} set={set} />
      </details>
      <Button kind="quiet" onPress={() => setCopying(true)}>{t('register.copy')}</Button>
      {copying && <CopyFrom to={fixture} onCopied={onCopied} onClose={() => setCopying(false)} />}
    </section>
  );
}

function Details({ next, set }: Pick<FormProps, 'next' | 'set'>) {
  return (
    <div class="register">
      <Select label={t('joints.circuit')} options={options('circuit', vocabulary.circuits)} value={next.circuit} onChoose={(circuit) => set({ ...next, circuit })} />
      <Field label={t('joints.size-label')} hint={t('joints.size-hint')} type="number" value={next.size} onInput={(size) => set({ ...next, size })} />
      <Choice
        legend={t('unit-of', { name: t('joints.size-label') })}
        quiet
        slim
        options={vocabulary.lengthUnits.map((value) => ({ value, words: said('unit', value) }))}
        value={next.unit}
        onChoose={(unit) => set({ ...next, unit })}
      />
    </div>
  );
}

/** What is there, the newest first: that is what was just added. */
function List({ fixture }: { fixture: Fixture }) {
  return (
    <ol class="register-list" reversed>
      {[...fixture.joints].reverse().map((joint) => (
        <li key={joint.id}>
          {joint.name} <span class="small soft">{said('kind', joint.kind)}</span>
        </li>
      ))}
    </ol>
  );
}
