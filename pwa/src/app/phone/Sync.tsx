import { useState } from 'preact/hooks';
import { status, syncNow } from '../../engine/client';
import { Button } from '../../ui';
import { t } from '../../words';

/** Sync now, and what came of it. */
export function Sync() {
  const [state, setState] = useState<'ready' | 'busy' | 'done'>('ready');
  const go = async () => {
    setState('busy');
    await syncNow();
    setState('done');
  };
  return (
    <>
      {state === 'done' && (
        <p class="small" role="status">
          {t(status.value.reach === 'reached' ? 'phone.sync-reached' : 'phone.sync-offline')}
        </p>
      )}
      <Button kind="main" disabled={state === 'busy'} onPress={() => void go()}>
        {t(state === 'busy' ? 'phone.syncing' : 'phone.sync')}
      </Button>
    </>
  );
}
