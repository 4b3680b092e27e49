import { vocabulary } from '../../engine/types';
import { Caution, Choice } from '../../ui';
import { said, t } from '../../words';
import { resultOf } from './observation';

interface Props {
  looks: string | null;
  onLooks: (looks: string) => void;
}

/** What a leak looks like where nothing can be counted. */
export function Looks({ looks, onLooks }: Props) {
  const gross = looks !== null && resultOf({ medium: '', how: 'class', size: { as: 'none' }, class: looks }) === 'gross';
  return (
    <div class="looks">
      <Choice
        legend={t('leak.looks')}
        options={vocabulary.classes.map((value) => ({ value, words: said('class', value) }))}
        value={looks}
        onChoose={onLooks}
      />
      {gross && <Caution codes={['gross']} />}
    </div>
  );
}
