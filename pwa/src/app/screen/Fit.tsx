import { Button } from '../../ui';
import { t } from '../../words';
import { kept, perMm } from './screen';

/** Whether this screen draws at true size, and the way to make it do so. */
export function Fit() {
  const fits = perMm() !== null;
  const stale = !fits && kept() !== null;
  return (
    <section class="phone-part" aria-label={t('screen.title')}>
      <h2>{t('screen.title')}</h2>
      <p>{t(fits ? 'screen.good' : stale ? 'screen.stale' : 'screen.none')}</p>
      <Button href="/screen">{t(fits || stale ? 'screen.again' : 'screen.open')}</Button>
    </section>
  );
}
