import { said, t } from '../../../words';

interface Props {
  /** What is measured, for people who hear the screen. */
  of: string;
  units: readonly string[];
  value: string;
  onChoose: (unit: string) => void;
}

/** The unit beside a field. */
export function Units({ of, units, value, onChoose }: Props) {
  return (
    <select
      class="units"
      aria-label={t('unit-of', { name: of })}
      value={value}
      onChange={(event) => onChoose(event.currentTarget.value)}
    >
      {units.map((unit) => (
        <option key={unit} value={unit}>
          {said('unit', unit)}
        </option>
      ))}
    </select>
  );
}
