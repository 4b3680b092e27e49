import { vocabulary } from '../../engine/types';
import { Choice, Field } from '../../ui';
import { said, t } from '../../words';
import { Units } from '../desk/edit/Units';
import type { ObservationForm, Wrongs } from './observation';

interface Props {
  form: ObservationForm;
  wrong: Wrongs;
  set: (change: Partial<ObservationForm>) => void;
}

/** Count, time and size of an observation. */
export function AmendFields(props: Props) {
  const { form, wrong, set } = props;
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
        options={(['window', 'ten'] as const).map((value) => ({ value, words: said('how', value) }))}
        value={form.how}
        onChoose={(how) => set({ how })}
      />
      <div class="times">
        <Field
          label={t('amend.count')}
          type="number"
          value={form.count}
          onInput={(count) => set({ count })}
          {...wordsOf(wrong.count)}
        />
        <Field
          label={t('amend.seconds')}
          type="number"
          value={form.seconds}
          onInput={(seconds) => set({ seconds })}
          {...wordsOf(wrong.seconds)}
        />
      </div>
      <Choice
        legend={t('amend.size-as')}
        slim
        options={(['tube', 'diameter'] as const).map((value) => ({ value, words: t(`amend.size-${value}`) }))}
        value={form.as}
        onChoose={(as) => set({ as })}
      />
      {form.as === 'tube' ? <ByTube {...props} /> : <ByDiameter {...props} />}
    </div>
  );
}

function ByTube({ form, wrong, set }: Props) {
  return (
    <div class="pair-of">
      <Field
        label={t('amend.share')}
        type="number"
        value={form.share}
        onInput={(share) => set({ share })}
        {...wordsOf(wrong.share)}
      />
      <Field
        label={t('amend.tube')}
        type="number"
        value={form.tube}
        onInput={(tube) => set({ tube })}
        {...wordsOf(wrong.tube)}
        beside={
          <Units
            of={t('amend.tube')}
            units={vocabulary.lengthUnits}
            value={form.tubeUnit}
            onChoose={(tubeUnit) => set({ tubeUnit })}
          />
        }
      />
    </div>
  );
}

function ByDiameter({ form, wrong, set }: Props) {
  return (
    <Field
      label={t('amend.diameter')}
      type="number"
      value={form.diameter}
      onInput={(diameter) => set({ diameter })}
      {...wordsOf(wrong.diameter)}
      beside={
        <Units
          of={t('amend.diameter')}
          units={vocabulary.lengthUnits}
          value={form.diameterUnit}
          onChoose={(diameterUnit) => set({ diameterUnit })}
        />
      }
    />
  );
}

function wordsOf(fault: Wrongs[keyof Wrongs]): { wrong?: string } {
  return fault === undefined ? {} : { wrong: t(`fault-field.${fault}`) };
}
