import { useState } from 'preact/hooks';
import { codeOf, named, status } from '../../engine/client';
import { type Imported, importFile } from '../../link/import';
import { known, listed, said, t } from '../../words';
import { useDesk } from '../desk/useDesk';

/** At a desk: brings in a file of unsent records that a phone wrote, and says what came of it. */
export function Import() {
  const [busy, setBusy] = useState(false);
  const [says, setSays] = useState<{ words: string; wrong: boolean } | null>(null);
  const desk = useDesk();
  if (!desk || !status.value.me || status.value.signedOut) return null;
  const take = async (input: HTMLInputElement) => {
    const file = input.files?.[0];
    input.value = '';
    if (file === undefined) return;
    setBusy(true);
    setSays(await importFile(file).then(
      (done) => ({ words: wordsOf(done), wrong: false }),
      (fault: unknown) => ({ words: faultWords(fault), wrong: true }),
    ));
    setBusy(false);
  };
  return (
    <section class="phone-part" aria-label={t('import.title')}>
      <h2>{t('import.title')}</h2>
      <p>{t('import.what')}</p>
      <label class="button quiet file-choice">
        <input type="file" class="spoken" accept=".ndjson,application/x-ndjson" disabled={busy} onChange={(event) => void take(event.currentTarget)} />
        {t(busy ? 'import.busy' : 'import.choose')}
      </label>
      {says && (
        <p class={says.wrong ? 'wrong' : 'strong'} role={says.wrong ? 'alert' : 'status'}>
          {says.words}
        </p>
      )}
    </section>
  );
}

function wordsOf(done: Imported): string {
  const parts = (['applied', 'duplicate', 'aside', 'pictures'] as const).filter((part) => done[part] > 0);
  if (parts.length === 0) return t('import.nothing');
  return t('import.done', { names: listed(parts.map((part) => t(`import.${part}`, { n: done[part] }))) });
}

function faultWords(fault: unknown): string {
  const code = codeOf(fault);
  return known('import-fault', code) ? said('import-fault', code) : t('import-fault.other', { code: named(fault) });
}
