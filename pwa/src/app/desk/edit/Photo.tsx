import { useState } from 'preact/hooks';
import type { Fixture } from '../../../engine/types';
import { Button } from '../../../ui';
import { t } from '../../../words';
import { TakePicture } from '../../finding/TakePicture';
import { WithdrawPicture } from '../../finding/WithdrawPicture';
import { Photo as Shown } from '../../fixture/Photo';

/** The photo of a fixture, shown after a scan: so people see that a tag is on the right one. */
export function Photo({ fixture }: { fixture: Fixture }) {
  const [asking, setAsking] = useState(false);
  const { id, site, photo } = fixture;
  return (
    <section class="form" aria-label={t('photo.title')}>
      <h2>{t('photo.title')}</h2>
      <p>{t('photo.what')}</p>
      <Shown fixture={fixture} />
      <TakePicture site={site} fixture={id} of={id} words={t(photo ? 'photo.another' : 'photo.add')} />
      {photo && (
        <Button kind="quiet" onPress={() => setAsking(true)}>
          {t('picture.withdraw')}
        </Button>
      )}
      {asking && photo && <WithdrawPicture card={photo} site={site} fixture={id} of={id} onClose={() => setAsking(false)} />}
    </section>
  );
}
