import { useState } from 'preact/hooks';
import { codeOf, unsentFile } from '../engine/client';
import { t } from '../words';
import { Button } from './Button';

/** Puts everything unsent into one file, for a phone that cannot send: by the share sheet where there is one. */
export function Export() {
  const [busy, setBusy] = useState(false);
  const [says, setSays] = useState('');
  const go = async () => {
    setBusy(true);
    setSays(await exported().catch((fault: unknown) => t('export.failed', { code: codeOf(fault) })));
    setBusy(false);
  };
  return (
    <>
      <Button disabled={busy} onPress={() => void go()}>
        {t(busy ? 'export.busy' : 'export.go')}
      </Button>
      {says !== '' && (
        <p class="small" role="status">
          {says}
        </p>
      )}
    </>
  );
}

async function exported(): Promise<string> {
  const { file, events, pictures } = await unsentFile();
  if (!(await shared(file))) download(file);
  const counts = { records: t('export.records', { n: events }), pictures: t('export.pictures', { n: pictures }) };
  return t('export.done', { ...counts, name: file.name });
}

/** Whether the share sheet took it; false where there is none, or it would not. */
async function shared(file: File): Promise<boolean> {
  const sheet = { files: [file] };
  if (!navigator.canShare?.(sheet)) return false;
  return navigator.share(sheet).then(
    () => true,
    () => false,
  );
}

function download(file: File): void {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(file);
  link.download = file.name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}
