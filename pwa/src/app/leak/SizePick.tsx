import type { Amount } from '../../engine/types';
import { Choice } from '../../ui';
import { type LengthUnit, lengths } from '../../ui/theme';
import { type Code, num, said, t, typedLength } from '../../words';
import { amount } from '../round/conditions';
import { Keys } from './Keys';
import { counts, type How, type LeakDraft } from './observation';
import { current, type SizeDraft, sizedAs, unitOf } from './size';
import { SizeOther } from './SizeOther';
import { Sized } from './Sized';

const shares = ['0.125', '0.25', '0.5', '1'];

/** Lengths to press, in each unit. */
const usual = { mm: ['1', '2', '3', '5'], in: ['1/16', '1/8', '3/16', '1/4'] };

const bubble = { beside: 'leak.size', alone: 'leak.sizeNoTube' } as const;

/** What is being sized, beside a tube or alone. */
const legends: Readonly<Record<How, { beside: Code; alone: Code }>> = {
  window: bubble, ten: bubble, taps: bubble, collected: bubble, class: bubble,
  dome: { beside: 'leak.sizeDome', alone: 'leak.sizeDomeNoTube' },
  froth: { beside: 'leak.sizeFroth', alone: 'leak.sizeFrothNoTube' },
};

interface Props {
  tube: Amount | undefined;
  draft: LeakDraft;
  onDraft: (draft: LeakDraft) => void;
}

/** The size of a bubble: shares of the joint's tube drawn to scale, lengths, or rings; and of up to two more bubbles. */
export function SizePick({ tube: own, draft, onDraft }: Props) {
  const size = current(draft);
  const unit = lengths.value;
  const tube = size?.as === 'tube' ? (size.tube ?? own) : own;
  const put = (next: SizeDraft) => onDraft({ ...sizedAs(draft, next), target: draft.target === 'size' ? null : draft.target });
  const type = (next: LengthUnit) => onDraft({ ...sizedAs(draft, inUnit(size, next)), target: 'size' });
  const choose = (value: string) => {
    if (value === 'other') type(unit);
    else if (tube === undefined) put({ as: 'diameter', text: value, unit });
    else put(size?.as === 'tube' ? { ...size, share: Number(value) } : { as: 'tube', share: Number(value) });
  };
  const options = tube === undefined ? ofLength(unit) : ofTube();
  const chosen = chosenOf(size, tube === undefined ? unit : null, options.map((option) => option.value));
  const lengthWanted = draft.target === 'size' || (size !== null && size.as !== 'tube');
  return (
    <>
      <div class="sizes">
        <Choice
          legend={tube === undefined ? t(legends[draft.how].alone) : t(legends[draft.how].beside, { tube: amount(tube) })}
          options={[...options, other(size, unit)]}
          value={chosen}
          onChoose={choose}
        />
      </div>
      {(tube === undefined || lengthWanted) && (
        <SizeOther size={size} options={tube === undefined ? [] : bare(unit)} onSize={put} onUnit={type} />
      )}
      {draft.target === 'size' && <Keys draft={draft} target="size" onDraft={onDraft} />}
      {draft.size !== null && counts(draft.how) && <Sized draft={draft} onDraft={onDraft} />}
    </>
  );
}

/** A length to be typed in a unit: what was typed in it stands, anything else begins anew. */
function inUnit(size: SizeDraft | null, unit: LengthUnit): SizeDraft {
  return size?.as === 'diameter' && unitOf(size) === unit ? size : { as: 'diameter', text: '', unit };
}

/** The way to type a length; it shows what was typed. */
function other(size: SizeDraft | null, unit: LengthUnit) {
  const typed = size !== null && 'text' in size ? { text: size.text, unit: unitOf(size) } : null;
  const words = typed ? `${num(typed.text) || '–'} ${said('unit', typed.unit)}` : said('unit', unit);
  return { value: 'other', words, label: `${t(unit === 'in' ? 'size.in' : 'leak.mmOther')} ${words}` };
}

/** Which button a size is: a share, a length in this unit (none where shares stand there), or the other. */
function chosenOf(size: SizeDraft | null, unit: LengthUnit | null, values: readonly string[]): string | null {
  if (size === null) return null;
  if (size.as === 'tube') return values.includes(String(size.share)) ? String(size.share) : 'other';
  return pressed(size, unit, values) ?? 'other';
}

/** The button of a length, null where it has none. */
export function pressed(size: SizeDraft | null, unit: LengthUnit | null, values: readonly string[]): string | null {
  if (size?.as !== 'diameter' || unit === null || unitOf(size) !== unit) return null;
  const length = typedLength(size.text, unit);
  return values.find((value) => typedLength(value, unit) === length) ?? null;
}

function ofTube() {
  return shares.map((value) => ({
    value,
    words: <Scale share={Number(value)} word={said('leak.share', value)} />,
    label: t('leak.ofTube', { share: said('leak.share', value) }),
  }));
}

function ofLength(unit: LengthUnit) {
  return usual[unit].map((value) => ({ value, words: `${value} ${said('unit', unit)}` }));
}

/** The same where the unit stands below. */
function bare(unit: LengthUnit) {
  return ofLength(unit).map(({ value, words }) => ({ value, words: value, label: words }));
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
