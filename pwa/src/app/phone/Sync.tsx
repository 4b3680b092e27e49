import { useState } from 'preact/hooks';
import { status, stopSync, syncNow } from '../../engine/client';
import { Button, Exchange, Going } from '../../ui';
import { t } from '../../words';

/** Sync now, how far that is, and what came of it. */
export function Sync() {
  const [state, setState] = useState<'ready' | 'busy' | 'done'>('ready');
  const { doing, paused, reach } = status.value;
  const busy = state === 'busy';
  const go = async () => {
    setState('busy');
    await syncNow(true);
    setState('done');
  };
  return (
    <>
      {!busy && !doing && paused && <p class="small">{t('going.paused')}</p>}
      {state === 'done' && !paused && (
        <p class="small" role="status">
          {t(reach === 'reached' ? 'phone.sync-reached' : 'phone.sync-offline')}
        </p>
      )}
      {busy && !doing ? <Going says={t('going.asking')} onStop={() => void stopSync()} /> : <Exchange />}
      <Button kind="main" disabled={busy} onPress={() => void go()}>
        {t(busy ? 'phone.syncing' : 'phone.sync')}
      </Button>
    </>
  );
}
