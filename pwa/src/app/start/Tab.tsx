import { Button } from '../../ui';
import { t } from '../../words';
import { Install } from './Install';
import { shortLived } from './install';
import './start.css';

interface Props {
  /** Where installing is explained; none where there is no room for it. */
  how?: string;
}

/** Where records are made: that this tab is cleared when it is not used, and the way to the app. Nothing elsewhere. */
export function TabWarning({ how }: Props) {
  if (!shortLived()) return null;
  return (
    <section class="connection" role="note">
      <p>{t('tab.warning')}</p>
      {how !== undefined && (
        <Button kind="quiet" href={how}>
          {t('tab.how')}
        </Button>
      )}
    </section>
  );
}

/** On the first screen of such a tab: how the app is installed, and what to see to before. */
export function TabInstall() {
  if (!shortLived()) return null;
  return (
    <div id="install" class="begin">
      <Install />
      <p>{t('tab.before')}</p>
    </div>
  );
}
