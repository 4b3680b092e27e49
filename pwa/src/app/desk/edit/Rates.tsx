import { vocabulary } from '../../../engine/types';
import { Select } from '../../../ui';
import { t } from '../../../words';
import { options } from './options';
import { needsRef } from './program';

interface Props {
  label: string;
  unit: string;
  reference: string;
  onUnit: (unit: string) => void;
  onReference: (reference: string) => void;
}

/** A unit of leak rate with the reference conditions that belong to it. */
export function Rates({ label, unit, reference, onUnit, onReference }: Props) {
  return (
    <div class="pair-of">
      <Select label={label} options={options('unit', vocabulary.rateUnits)} value={unit} onChoose={onUnit} />
      {needsRef(unit) && (
        <Select label={t('tested.ref-label')} options={options('ref', vocabulary.rateRefs)} value={reference} onChoose={onReference} />
      )}
    </div>
  );
}
