import { status } from '../engine/client';
import { Button, Export, Page } from '../ui';
import { t } from '../words';

/** A device that was shut out: why nothing can be recorded here, and what becomes of what it held. */
export function Closed() {
  const { unsent, unsentPictures } = status.value;
  const holds = unsent + unsentPictures > 0;
  return (
    <Page title={t('closed.title')} act={<Button kind="main" href="/join">{t('start.pair')}</Button>}>
      <div class="says lead">
        <p>{t('closed.why')}</p>
        <p>{holds ? t('closed.holds', { n: unsent + unsentPictures }) : t('closed.sent')}</p>
      </div>
      {holds && <Export />}
      <a class="button quiet" href="/phone">
        {t('phone.title')}
      </a>
    </Page>
  );
}
