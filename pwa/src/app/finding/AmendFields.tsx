import { vocabulary } from '../../engine/types';
import { Button, Choice, Field } from '../../ui';
import { said, t } from '../../words';
import type { FieldFault } from '../desk/numbers';
import { Units } from '../desk/edit/Units';
import { amended, blankSize, type ObservationForm, type SizeForm, type SizeWrongs, type Wrongs } from './observation';

interface Props {
  form: ObservationForm;
  wrong: Wrongs;
  set: (change: Partial<ObservationForm>) => void;
}

/** Count, time and size of an observation. */
export function AmendFields(props: Props) {
  const { form, set } = props;
  return (
    <div class="form">
      <Choice
        legend={t('finding.medium')}
        slim
        options={vocabulary.solutions.map((value) => ({ value, words: said('medium', value) }))}
        value={vocabulary.solutions.find((one) => one === form.medium) ?? null}
        onChoose={(medium) => set({ medium })}
      />
      <Choice
        legend={t('finding.how')}
        slim
        layout="two"
        options={amended.map((value) => ({ value, words: said('how', value) }))}
        value={form.how}
        onChoose={(how) => set({ how })}
      />
      <OfWay {...props} />
    </div>
  );
}

function OfWay(props: Props) {
  switch (props.form.how) {
    case 'class': return <ByClass {...props} />;
    case 'collected': return <ByGas {...props} />;
    case 'dome': case 'froth': return <ByGrowth {...props} />;
    default: return <ByBubbles {...props} />;
  }
}

function ByGrowth({ form, wrong, set }: Props) {
  return (
    <>
      <Seconds form={form} wrong={wrong} set={set} />
      <Length
        words={t(form.how === 'froth' ? 'amend.grewBy' : 'amend.height')}
        value={form.height}
        unit={form.heightUnit}
        wrong={wrong.height}
        onValue={(height) => set({ height })}
        onUnit={(heightUnit) => set({ heightUnit })}
      />
      <SizeFields legend={t(form.how === 'froth' ? 'leak.sizeFrothNoTube' : 'leak.sizeDomeNoTube')} form={form} wrong={wrong} set={set} />
    </>
  );
}

function ByClass({ form, set }: Props) {
  return (
    <Choice
      legend={t('finding.class')}
      layout="two"
      slim
      options={vocabulary.classes.map((value) => ({ value, words: said('class', value) }))}
      value={vocabulary.classes.find((one) => one === form.looks) ?? null}
      onChoose={(looks) => set({ looks })}
    />
  );
}

function ByGas({ form, wrong, set }: Props) {
  return (
    <>
      <Field
        label={t('amend.volume')}
        type="number"
        value={form.volume}
        onInput={(volume) => set({ volume })}
        {...wordsOf(wrong.volume)}
        beside={
          <Units
            of={t('amend.volume')}
            units={vocabulary.volumeUnits}
            value={form.volumeUnit}
            onChoose={(volumeUnit) => set({ volumeUnit })}
          />
        }
      />
      <Seconds form={form} wrong={wrong} set={set} />
      <Field
        label={t('amend.head')}
        value={form.head}
        onInput={(head) => set({ head })}
        {...wordsOf(wrong.head)}
        beside={
          <Units of={t('amend.head')} units={vocabulary.lengthUnits} value={form.headUnit} onChoose={(headUnit) => set({ headUnit })} />
        }
      />
    </>
  );
}

function Seconds({ form, wrong, set }: Props) {
  return (
    <Field
      label={t('amend.seconds')}
      type="number"
      value={form.seconds}
      onInput={(seconds) => set({ seconds })}
      {...wordsOf(wrong.seconds)}
    />
  );
}

function ByBubbles(props: Props) {
  const { form, wrong, set } = props;
  return (
    <>
      <div class="times">
        <Field
          label={t('amend.count')}
          type="number"
          value={form.count}
          onInput={(count) => set({ count })}
          {...wordsOf(wrong.count)}
        />
        <Seconds form={form} wrong={wrong} set={set} />
      </div>
      <SizeFields legend={t('amend.size-as')} form={form} wrong={wrong} set={set} />
      <MoreSizes {...props} />
    </>
  );
}

/** Further bubbles that were sized, up to three in all. */
function MoreSizes({ form, wrong, set }: Props) {
  const { more } = form;
  const put = (at: number, change: Partial<SizeForm>) =>
    set({ more: more.map((one, i) => (i === at ? { ...one, ...change } : one)) });
  return (
    <>
      {more.map((one, at) => (
        <div key={at} class="form">
          <SizeFields
            legend={t('amend.more', { n: at + 2 })}
            form={one}
            wrong={wrong.more?.[at] ?? {}}
            set={(change) => put(at, change)}
          />
          <Button kind="quiet" onPress={() => set({ more: more.filter((_, i) => i !== at) })}>
            {t('amend.more-drop', { n: at + 2 })}
          </Button>
        </div>
      ))}
      {more.length < 2 && (
        <Button kind="quiet" onPress={() => set({ more: [...more, blankSize] })}>
          {t('amend.more-add')}
        </Button>
      )}
    </>
  );
}

const ways = ['tube', 'diameter', 'ring'] as const;
const withPicture = [...ways, 'picture'] as const;

interface OfSize {
  legend: string;
  form: SizeForm;
  wrong: SizeWrongs;
  set: (change: Partial<SizeForm>) => void;
}

/** The size of one bubble: how it was found, and its numbers. */
function SizeFields(props: OfSize) {
  const { legend, form, set } = props;
  return (
    <>
      <Choice
        legend={legend}
        slim
        options={(form.measured ? withPicture : ways).map((value) => ({ value, words: t(`amend.size-${value}`) }))}
        value={form.as}
        onChoose={(as) => set({ as })}
      />
      {form.as === 'tube' && <ByTube {...props} />}
      {(form.as === 'diameter' || form.as === 'ring') && <ByDiameter {...props} />}
    </>
  );
}

function ByTube({ form, wrong, set }: OfSize) {
  return (
    <div class="pair-of">
      <Field
        label={t('amend.share')}
        type="number"
        value={form.share}
        onInput={(share) => set({ share })}
        {...wordsOf(wrong.share)}
      />
      <Length
        words={t('amend.tube')}
        value={form.tube}
        unit={form.tubeUnit}
        wrong={wrong.tube}
        onValue={(tube) => set({ tube })}
        onUnit={(tubeUnit) => set({ tubeUnit })}
      />
    </div>
  );
}

function ByDiameter({ form, wrong, set }: OfSize) {
  return (
    <Length
      words={t('amend.diameter')}
      value={form.diameter}
      unit={form.diameterUnit}
      wrong={wrong.diameter}
      onValue={(diameter) => set({ diameter })}
      onUnit={(diameterUnit) => set({ diameterUnit })}
    />
  );
}

interface LengthProps {
  words: string;
  value: string;
  unit: string;
  wrong: FieldFault | undefined;
  onValue: (value: string) => void;
  onUnit: (unit: string) => void;
}

function Length({ words, value, unit, wrong, onValue, onUnit }: LengthProps) {
  return (
    <Field
      label={words}
      type={keysFor(unit)}
      value={value}
      onInput={onValue}
      {...wordsOf(wrong)}
      beside={<Units of={words} units={vocabulary.lengthUnits} value={unit} onChoose={onUnit} />}
    />
  );
}

/** Inches may be fractions, which a keyboard of numbers does not have. */
function keysFor(unit: string): 'text' | 'number' {
  return unit === 'in' ? 'text' : 'number';
}

function wordsOf(fault: FieldFault | undefined): { wrong?: string } {
  return fault === undefined ? {} : { wrong: t(`fault-field.${fault}`) };
}
