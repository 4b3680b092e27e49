import { Button, Choice } from '../../ui';
import { t } from '../../words';
import type { LeakDraft } from './observation';
import { current, dropped, mostSizes, sizes, sizeWords } from './size';

/** The bubbles that were sized, and room for one more: pressing one sizes it. */
export function Sized({ draft, onDraft }: { draft: LeakDraft; onDraft: (draft: LeakDraft) => void }) {
  const given = sizes(draft);
  const at = draft.sizing ?? 0;
  const options = given.map((size, i) => {
    const words = sizeWords(size);
    return { value: String(i), words, label: t('size.nth', { n: i + 1, size: words }) };
  });
  if (given.length < mostSizes) {
    options.push({ value: String(given.length), words: '+', label: t('size.nthNew', { n: given.length + 1 }) });
  }
  const target = draft.target === 'size' ? null : draft.target;
  return (
    <div class="sized">
      <Choice
        legend={t('size.which')}
        slim
        options={options}
        value={String(at)}
        onChoose={(value) => onDraft({ ...draft, sizing: Number(value), target })}
      />
      {at > 0 && current(draft) !== null && (
        <Button kind="quiet" onPress={() => onDraft({ ...dropped(draft, at), target })}>
          {t('size.drop', { n: at + 1 })}
        </Button>
      )}
    </div>
  );
}
