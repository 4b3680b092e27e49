import { useEffect, useState } from 'preact/hooks';
import { status, takeHere } from '../engine/client';
import { Button } from '../ui';
import '../ui/page.css';
import { t } from '../words';

/** Another tab holds the records: what that means, and one button that takes them over. */
export function Elsewhere() {
  const [busy, setBusy] = useState(false);
  const silent = status.value.problem === 'silent' && !busy;
  useEffect(() => {
    document.title = t('page.title', { name: t('elsewhere.title') });
  }, []);
  const take = async () => {
    setBusy(true);
    await takeHere();
    setBusy(false);
  };
  return (
    <div class="page elsewhere">
      <header>
        <h1>{t('elsewhere.title')}</h1>
      </header>
      <main>
        <p>{t('elsewhere.why')}</p>
        <p>{t('elsewhere.what')}</p>
        {silent && (
          <p class="notice" role="alert">
            {t('elsewhere.silent')}
          </p>
        )}
      </main>
      <footer class="act">
        <Button kind="main" disabled={busy} onPress={() => void take()}>
          {t(busy ? 'loading' : 'elsewhere.use')}
        </Button>
      </footer>
    </div>
  );
}
