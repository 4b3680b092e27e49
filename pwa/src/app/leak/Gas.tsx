import { Button, Caution, Choice } from '../../ui';
import { said, t } from '../../words';
import type { LeakDraft } from './observation';
import { SetUp } from './SetUp';

/** How gas is collected: the drawing, its words and its caution. */
export function Gas() {
  return (
    <div class="gas">
      <SetUp />
      <p class="small">{t('leak.setUp')}</p>
      <Caution codes={['collect']} />
    </div>
  );
}

interface Props {
  draft: LeakDraft;
  onDraft: (draft: LeakDraft) => void;
}

const units = ['mL', 'cm3', 'in3'];

/** The unit of the volume, with which that of the height goes; and which water stands higher. */
export function GasUnits({ draft, onDraft }: Props) {
  return (
    <>
      <Choice
        legend={t('leak.volumeUnit')}
        slim
        options={units.map((value) => ({ value, words: said('unit', value) }))}
        value={draft.volumeUnit}
        onChoose={(volumeUnit) => onDraft({ ...draft, volumeUnit, headUnit: volumeUnit === 'in3' ? 'in' : 'mm' })}
      />
      {draft.head !== '' && (
        <Button kind="quiet" onPress={() => onDraft({ ...draft, lower: !draft.lower })}>
          {draft.lower ? t('leak.lower') : t('leak.higher')}
        </Button>
      )}
    </>
  );
}
