import { vocabulary } from '../../engine/types';
import { Caution, Choice, Field, Select } from '../../ui';
import { said, t } from '../../words';
import { type Input, type TypedAmount, unreadable } from './conditions';

const pressures = ['kPa', 'bar', 'mbar', 'psi', 'Pa'];
const temperatures = ['degC', 'degF', 'K'];

interface Props {
  input: Input;
  onChange: (input: Input) => void;
}

/** Gas, pressure, ambient, solution and set-up, each with the caution that belongs to it. */
export function ConditionsForm({ input, onChange }: Props) {
  const put = (part: Partial<Input>) => onChange({ ...input, ...part });
  return (
    <section class="conditions">
      <Select
        label={t('round.gas')}
        value={input.gas}
        options={words('gas', vocabulary.gases)}
        onChoose={(gas) => put({ gas })}
      />
      <Caution codes={['gas', 'gas-inert']} />
      <Quantity
        label={t('round.pressure')}
        hint={t('round.pressureHint')}
        units={pressures}
        value={input.pressure}
        onChange={(pressure) => put({ pressure })}
      />
      <Quantity
        label={t('round.ambient')}
        units={temperatures}
        value={input.ambient}
        onChange={(ambient) => put({ ambient })}
      />
      <Quantity
        label={t('round.barometer')}
        hint={t('round.barometerHint')}
        units={pressures}
        value={input.barometer}
        onChange={(barometer) => put({ barometer })}
      />
      <Choice
        legend={t('round.solution')}
        options={words('solution', vocabulary.solutions)}
        value={input.solution}
        onChoose={(solution) => put({ solution })}
      />
      <Choice
        legend={t('round.wetted')}
        layout="two"
        options={words('wetted', vocabulary.wettings)}
        value={input.wetted}
        onChoose={(wetted) => put({ wetted })}
      />
      <Field
        label={t('round.setup')}
        hint={t('round.setupHint')}
        type="textarea"
        value={input.setup}
        onInput={(setup) => put({ setup })}
      />
    </section>
  );
}

interface QuantityProps {
  label: string;
  hint?: string;
  units: readonly string[];
  value: TypedAmount;
  onChange: (value: TypedAmount) => void;
}

function Quantity({ label, hint, units, value, onChange }: QuantityProps) {
  const unit = (
    <select
      aria-label={t('round.unitOf', { name: label })}
      value={value.unit}
      onChange={(event) => onChange({ ...value, unit: event.currentTarget.value })}
    >
      {units.map((code) => (
        <option key={code} value={code}>
          {said('unit', code)}
        </option>
      ))}
    </select>
  );
  return (
    <Field
      label={label}
      hint={hint}
      type="number"
      inputMode="text"
      value={value.text}
      wrong={unreadable(value) ? t('round.notNumber') : undefined}
      onInput={(text) => onChange({ ...value, text })}
      beside={unit}
    />
  );
}

function words(family: string, codes: readonly string[]) {
  return codes.map((value) => ({ value, words: said(family, value) }));
}
