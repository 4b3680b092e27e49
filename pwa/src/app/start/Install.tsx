import { Button } from '../../ui';
import { t } from '../../words';
import { install, installedNow, wayToInstall } from './install';

/** How the app comes onto this phone, by the browser's own way. */
export function Install() {
  return (
    <section class="install">
      <h2>{t('join.install')}</h2>
      <p>{t('join.install-why')}</p>
      {installedNow.value ? <p class="strong">{t('join.install-wait')}</p> : <Way />}
    </section>
  );
}

function Way() {
  const way = wayToInstall();
  if (way === 'offer') {
    return (
      <Button kind="main" onPress={() => void install()}>
        {t('join.install-do')}
      </Button>
    );
  }
  return (
    <ol class="steps">
      <li>{t(`join.${way}-1`)}</li>
      <li>{t(`join.${way}-2`)}</li>
      <li>{t('join.then')}</li>
    </ol>
  );
}
