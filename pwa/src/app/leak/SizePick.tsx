import type { Amount } from '../../engine/types';
import { Choice } from '../../ui';
import { num, said, t } from '../../words';
import { amount } from '../round/conditions';
import type { SizeDraft } from './observation';

const shares = ['0.125', '0.25', '0.5', '1'];
const millimetres = ['1', '2', '3', '5'];

interface Props {
  tube: Amount | undefined;
  size: SizeDraft | null;
  onSize: (size: SizeDraft) => void;
  /** Millimetres are to be typed. */
  onType: () => void;
}

/** The size of one bubble: shares of the joint's tube drawn to scale, or millimetres. */
export function SizePick({ tube, size, onSize, onType }: Props) {
  const options = tube === undefined ? inMillimetres() : ofTube();
  const chosen = valueOf(size, options.map((option) => option.value));
  const choose = (value: string) => {
    if (value === 'other') onType();
    else if (tube === undefined) onSize({ as: 'diameter', text: value });
    else onSize({ as: 'tube', share: Number(value) });
  };
  return (
    <div class="sizes">
      <Choice
        legend={tube === undefined ? t('leak.sizeNoTube') : t('leak.size', { tube: amount(tube) })}
        options={[...options, other(chosen === 'other' ? size : null)]}
        value={chosen}
        onChoose={choose}
      />
    </div>
  );
}

/** The way to type millimetres; it shows what was typed. */
function other(size: SizeDraft | null) {
  const words = size?.as === 'diameter' ? t('leak.mmOf', { value: num(size.text) || '–' }) : t('leak.mm');
  return { value: 'other', words, label: `${t('leak.mmOther')} ${words}` };
}

function valueOf(size: SizeDraft | null, values: readonly string[]): string | null {
  if (size === null) return null;
  const value = size.as === 'tube' ? String(size.share) : size.text;
  return values.includes(value) ? value : 'other';
}

function ofTube() {
  return shares.map((value) => ({
    value,
    words: <Scale share={Number(value)} word={said('leak.share', value)} />,
    label: t('leak.ofTube', { share: said('leak.share', value) }),
  }));
}

function inMillimetres() {
  return millimetres.map((value) => ({ value, words: t('leak.mmOf', { value }) }));
}

/** The tube's end, and beside it the bubble at the same scale. */
function Scale({ share, word }: { share: number; word: string }) {
  return (
    <span class="scale">
      <svg viewBox="0 0 60 30" aria-hidden="true" focusable="false">
        <circle cx="15" cy="15" r="12" fill="none" stroke="currentColor" stroke-width="4" opacity="0.55" />
        <circle cx="44" cy={29 - 14 * share} r={14 * share} fill="currentColor" />
      </svg>
      {word}
    </span>
  );
}
