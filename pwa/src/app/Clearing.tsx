import { Going } from '../ui';
import '../ui/page.css';
import { t } from '../words';

/** All that was kept is being taken off this device: nothing else can be done here meanwhile. */
export function Clearing() {
  return (
    <div class="page">
      <header>
        <h1>{t('clearing.title')}</h1>
      </header>
      <main>
        <Going says={t('going.clearing')} />
        <p role="status">{t('clearing.why')}</p>
      </main>
    </div>
  );
}
