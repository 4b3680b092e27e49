import { useState } from 'preact/hooks';
import { codeOf, named, status } from '../../engine/client';
import { type Imported, importFile } from '../../link/import';
import { Going } from '../../ui';
import { useLong } from '../../ui/useLong';
import { known, listed, roomOf, said, t } from '../../words';
import { useDesk } from '../desk/useDesk';

/** At a desk: brings in a file of unsent records that a phone wrote, and says what came of it. */
export function Import() {
  const { busy, run, stop } = useLong();
  const [says, setSays] = useState<{ words: string; wrong: boolean } | null>(null);
  const [size, setSize] = useState('');
  const desk = useDesk();
  if (!desk || !status.value.me || status.value.signedOut) return null;
  const take = async (input: HTMLInputElement) => {
    const file = input.files?.[0];
    input.value = '';
    if (file === undefined) return;
    setSays(null);
    setSize(roomOf(file.size));
    await run(async (stopped) => setSays(await importFile(file, stopped).then(
      (done) => ({ words: wordsOf(done), wrong: false }),
      (fault: unknown) => ({ words: faultWords(fault), wrong: true }),
    )));
  };
  return (
    <section class="phone-part" aria-label={t('import.title')}>
      <h2>{t('import.title')}</h2>
      <p>{t('import.what')}</p>
      <label class="button quiet file-choice">
        <input type="file" class="spoken" accept=".ndjson,application/x-ndjson" disabled={busy} onChange={(event) => void take(event.currentTarget)} />
        {t(busy ? 'import.busy' : 'import.choose')}
      </label>
      {busy && <Going says={t('import.size', { size })} onStop={stop} />}
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
