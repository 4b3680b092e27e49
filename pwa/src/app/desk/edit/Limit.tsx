import { vocabulary } from '../../../engine/types';
import { Choice, Field } from '../../../ui';
import { t } from '../../../words';
import { faultOf, type FormPart } from './ProgramEdit';
import { Rates } from './Rates';
import { Units } from './Units';

/** The reject limit, as a leak rate or as a drop, and the station's own share of it. */
export function Limit({ form, wrong, set }: FormPart) {
  return (
    <div class="form">
      <Choice
        legend={t('tested.limit-as')}
        slim
        options={(['rate', 'drop', 'none'] as const).map((value) => ({ value, words: t(`tested.limit-${value}`) }))}
        value={form.limitAs}
        onChoose={(limitAs) => set({ limitAs })}
      />
      {form.limitAs === 'rate' && (
        <>
          <Field
            label={t('tested.limitRate')}
            type="number"
            value={form.rate}
            onInput={(rate) => set({ rate })}
            {...faultOf(wrong, 'rate')}
          />
          <Rates
            label={t('tested.limit-unit')}
            unit={form.rateUnit}
            reference={form.rateRef}
            onUnit={(rateUnit) => set({ rateUnit })}
            onReference={(rateRef) => set({ rateRef })}
          />
        </>
      )}
      {form.limitAs === 'drop' && (
        <Field
          label={t('tested.limitDrop')}
          type="number"
          value={form.drop}
          onInput={(drop) => set({ drop })}
          {...faultOf(wrong, 'drop')}
          beside={
            <Units
              of={t('tested.limitDrop')}
              units={vocabulary.pressureUnits}
              value={form.dropUnit}
              onChoose={(dropUnit) => set({ dropUnit })}
            />
          }
        />
      )}
      {form.limitAs !== 'none' && <Allowance form={form} wrong={wrong} set={set} />}
    </div>
  );
}

function Allowance({ form, wrong, set }: FormPart) {
  return (
    <Field
      label={t('tested.allowance')}
      hint={t('tested.allowance-hint')}
      type="number"
      value={form.allowance}
      onInput={(allowance) => set({ allowance })}
      {...faultOf(wrong, 'allowance')}
      beside={<span>%</span>}
    />
  );
}
