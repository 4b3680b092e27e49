import { useState } from 'preact/hooks';
import { t } from '../words';

interface Props {
  onText: (text: string) => void;
}

/** Take one picture with the device's own camera app and read the code in it. */
export function Snapshot({ onText }: Props) {
  const [state, setState] = useState<'ready' | 'reading' | 'picture' | 'reader'>('ready');
  const take = async (input: HTMLInputElement) => {
    const file = input.files?.[0];
    input.value = '';
    if (file === undefined) return;
    setState('reading');
    setState(await readFile(file, onText));
  };
  return (
    <div class="snapshot">
      <label class="button">
        <input
          type="file"
          class="spoken"
          accept="image/*"
          capture="environment"
          onChange={(event) => void take(event.currentTarget)}
        />
        {t(state === 'reading' ? 'scan.reading' : 'scan.picture')}
      </label>
      {(state === 'picture' || state === 'reader') && (
        <p class="wrong" role="alert">
          {t(`scan-trouble.${state}`)}
        </p>
      )}
    </div>
  );
}

async function readFile(file: File, onText: (text: string) => void): Promise<'ready' | 'picture' | 'reader'> {
  const reader = await import('./reader').catch(() => null);
  if (reader === null) return 'reader';
  try {
    const text = (await reader.read(file))[0];
    if (text === undefined) return 'picture';
    onText(text);
    return 'ready';
  } catch {
    return 'picture';
  }
}
