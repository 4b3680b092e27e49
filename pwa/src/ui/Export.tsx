import { useState } from 'preact/hooks';
import { codeOf, status, unsentFile } from '../engine/client';
import { t } from '../words';
import { Button } from './Button';
import { give } from './give';
import { Going } from './Going';
import { useLong } from './useLong';

/** Puts everything unsent into one file, for a phone that cannot send: by the share sheet where there is one. */
export function Export() {
  const { busy, run, stop } = useLong();
  const [says, setSays] = useState('');
  const [done, setDone] = useState(0);
  const { unsent, unsentPictures } = status.value;
  const go = () =>
    run(async (stopped) => {
      setSays('');
      setDone(0);
      setSays(await exported(stopped, setDone).catch(wordsOf));
    });
  return (
    <>
      <Button disabled={busy} onPress={() => void go()}>
        {t(busy ? 'export.busy' : 'export.go')}
      </Button>
      {busy && <Going says={t('export.so-far', { n: done })} done={done} of={unsent + unsentPictures} onStop={stop} />}
      {says !== '' && (
        <p class="small" role="status">
          {says}
        </p>
      )}
    </>
  );
}

async function exported(stop: AbortSignal, told: (n: number) => void): Promise<string> {
  const { file, events, pictures } = await unsentFile({ stop, told });
  await give(file);
  const counts = { records: t('export.records', { n: events }), pictures: t('export.pictures', { n: pictures }) };
  return t('export.done', { ...counts, name: file.name });
}

function wordsOf(fault: unknown): string {
  const code = codeOf(fault);
  return code === 'stopped' ? t('export.stopped') : t('export.failed', { code });
}
