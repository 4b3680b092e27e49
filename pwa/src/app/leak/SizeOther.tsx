import { useLocation } from 'preact-iso';
import { useState } from 'preact/hooks';
import { Button, Choice, type Option } from '../../ui';
import { type LengthUnit, lengths, lengthUnits } from '../../ui/theme';
import { said, t } from '../../words';
import { perMm } from '../screen/screen';
import { Rings } from './Rings';
import type { SizeDraft } from './size';
import { pressed } from './SizePick';

interface Props {
  size: SizeDraft | null;
  /** Lengths to press; none where they stand elsewhere. */
  options: readonly Option<string>[];
  onSize: (size: SizeDraft) => void;
  /** A length is to be typed in this unit. */
  onUnit: (unit: LengthUnit) => void;
}

/** Sizes that are no share of the tube: lengths in the person's unit, and rings of true size. */
export function SizeOther({ size, options, onSize, onUnit }: Props) {
  const unit = lengths.value;
  const choose = (next: LengthUnit) => {
    lengths.value = next;
    onUnit(next);
  };
  return (
    <div class="size-other">
      {options.length > 0 && (
        <Choice
          legend={t('size.another')}
          quiet
          slim
          options={options}
          value={pressed(size, unit, options.map(({ value }) => value))}
          onChoose={(text) => onSize({ as: 'diameter', text, unit })}
        />
      )}
      <div class="size-ways">
        <Choice
          legend={t('size.units')}
          quiet
          slim
          options={lengthUnits.map((value) => ({ value, words: said('size.unit', value) }))}
          value={unit}
          onChoose={choose}
        />
        <ByRing size={size} onSize={onSize} />
      </div>
    </div>
  );
}

/** To the rings, or first to where the screen is fitted. */
function ByRing({ size, onSize }: Pick<Props, 'size' | 'onSize'>) {
  const [open, setOpen] = useState(false);
  const { route, path } = useLocation();
  const scale = perMm();
  const press = () => (scale === null ? route(`/screen?from=${encodeURIComponent(path)}`) : setOpen(true));
  const take = (text: string) => {
    setOpen(false);
    onSize({ as: 'ring', text, unit: 'mm' });
  };
  return (
    <>
      <Button kind="quiet" onPress={press}>
        {t('size.ring')}
      </Button>
      {open && scale !== null && (
        <Rings perMm={scale} from={size?.as === 'ring' ? size.text : null} onTake={take} onLeave={() => setOpen(false)} />
      )}
    </>
  );
}
