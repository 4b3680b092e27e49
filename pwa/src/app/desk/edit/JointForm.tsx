import { useState } from 'preact/hooks';
import { type Amount, type Fixture, type JointCard, vocabulary } from '../../../engine/types';
import { Button, Choice, Field, Select, Sheet } from '../../../ui';
import { t } from '../../../words';
import { offerWithdrawal, useSaving } from '../../save';
import { above, type FieldFault, textOf } from '../numbers';
import { options } from './options';
import { changed, seenOf } from './change';
import { last } from './order';
import { asSpelled, runsOf } from './runs';
import { Units } from './Units';

interface Props {
  fixture: Fixture;
  /** The joint to change; a new one where it is left out. */
  joint?: JointCard;
  onClose: () => void;
}

/** One joint: added, changed or retired. */
export function JointForm({ fixture, joint: given, onClose }: Props) {
  const [joint] = useState(given); // as it stood when the form was opened: that is what is changed
  const [name, setName] = useState(joint?.name ?? '');
  const [kind, setKind] = useState(joint?.kind ?? fixture.joints.at(-1)?.kind ?? 'compression');
  const [circuit, setCircuit] = useState(joint?.circuit ?? 'test');
  const [size, setSize] = useState(joint?.tube ? textOf(joint.tube.value) : '');
  const [unit, setUnit] = useState(joint?.tube?.unit ?? 'mm');
  const [run, setRun] = useState(joint?.run ?? '');
  const [wrong, setWrong] = useState<FieldFault | null>(null);
  const { problem, save } = useSaving();
  const runs = runsOf(fixture.joints.filter(({ id }) => id !== joint?.id));
  const about = { site: fixture.site, fixture: fixture.id };
  const go = async () => {
    const tube = tubeOf(size, unit);
    setWrong(typeof tube === 'string' ? tube : null);
    if (typeof tube === 'string') return;
    const fields = { name: name.trim(), kind, circuit, run: asSpelled(run, runs), ...(tube && { tube }) };
    const change = joint && changed(joint, fields);
    if (change && Object.keys(change).length === 0) return onClose();
    const draft = joint
      ? ({ kind: 'joint-edited', ...about, of: joint.id, base: joint.event, body: { ...change, ...seenOf(joint) } } as const)
      : ({ kind: 'joint-added', ...about, body: { ...fields, order: last(fixture.joints) } } as const);
    const written = await save([draft]);
    if (written === null) return;
    if (!joint) offerWithdrawal(t('joints.added', { name: fields.name }), fixture.site, written);
    onClose();
  };
  return (
    <Sheet title={joint ? t('joints.edit-of', { name: joint.name }) : t('joints.add')} onClose={onClose}>
      <Field label={t('joints.name')} value={name} onInput={setName} />
      <div class="pair-of">
        <Select label={t('joints.kind')} options={options('kind', vocabulary.jointKinds)} value={kind} onChoose={setKind} />
        <Select label={t('joints.circuit')} options={options('circuit', vocabulary.circuits)} value={circuit} onChoose={setCircuit} />
      </div>
      <Field
        label={t('joints.size-label')}
        hint={t('joints.size-hint')}
        type="number"
        value={size}
        onInput={setSize}
        {...(wrong && { wrong: t(`fault-field.${wrong}`) })}
        beside={<Units of={t('joints.size-label')} units={vocabulary.lengthUnits} value={unit} onChoose={setUnit} />}
      />
      {runs.length > 0 && (
        <Choice
          legend={t('joints.runs')}
          layout="flow"
          slim
          options={runs.map((value) => ({ value, words: value }))}
          value={asSpelled(run, runs)}
          onChoose={(value) => setRun(value === run ? '' : value)}
        />
      )}
      <Field label={t('joints.run')} hint={t('joints.run-hint')} value={run} onInput={setRun} />
      {problem !== null && <p class="wrong" role="alert">{problem}</p>}
      <Button kind="main" disabled={name.trim() === ''} onPress={() => void go()}>
        {t('save')}
      </Button>
      {joint && <Retire fixture={fixture} joint={joint} onDone={onClose} />}
    </Sheet>
  );
}

function tubeOf(size: string, unit: string): Amount | FieldFault | null {
  if (size.trim() === '') return null;
  const value = above(size);
  return typeof value === 'number' ? { value, unit } : value;
}

function Retire({ fixture, joint, onDone }: { fixture: Fixture; joint: JointCard; onDone: () => void }) {
  const [why, setWhy] = useState('');
  const { problem, save } = useSaving();
  const go = async () => {
    const written = await save([
      { kind: 'joint-retired', site: fixture.site, fixture: fixture.id, of: joint.id, base: joint.event, body: { why: why.trim() } },
    ]);
    if (written === null) return;
    offerWithdrawal(t('joints.retired-done', { name: joint.name }), fixture.site, written);
    onDone();
  };
  return (
    <details class="more">
      <summary>{t('joints.retire')}</summary>
      <div class="form">
        <Field label={t('joints.retire-why')} hint={t('joints.retire-hint')} value={why} onInput={setWhy} />
        {problem !== null && <p class="wrong" role="alert">{problem}</p>}
        <Button disabled={why.trim() === ''} onPress={() => void go()}>
          {t('joints.retire-go')}
        </Button>
      </div>
    </details>
  );
}
