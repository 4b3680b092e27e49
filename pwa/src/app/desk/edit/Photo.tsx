import { useState } from 'preact/hooks';
import type { Fixture } from '../../../engine/types';
import { Button } from '../../../ui';
import { t } from '../../../words';
import { keep } from '../../finding/keep';
import { PictureShown } from '../../finding/PictureShown';
import { WithdrawPicture } from '../../finding/WithdrawPicture';
import { useSaving } from '../../save';

/** The photo of a fixture, shown after a scan: so people see that a tag is on the right one. */
export function Photo({ fixture }: { fixture: Fixture }) {
  const [wrong, setWrong] = useState('');
  const [asking, setAsking] = useState(false);
  const { problem, save } = useSaving();
  const { id, site, name, photo } = fixture;
  const take = async (input: HTMLInputElement) => {
    const file = input.files?.[0];
    input.value = '';
    if (file === undefined) return;
    const kept = await keep(file);
    setWrong('wrong' in kept ? kept.wrong : '');
    if ('picture' in kept) await save([{ kind: 'picture-added', site, fixture: id, of: id, body: kept.picture }]);
  };
  return (
    <section class="form" aria-label={t('photo.title')}>
      <h2>{t('photo.title')}</h2>
      <p>{t('photo.what')}</p>
      {photo && (
        <div class="fixture-photo">
          <PictureShown key={photo.hash} picture={photo} words={t('photo.of', { name })} />
        </div>
      )}
      {(wrong || problem) && <p class="wrong" role="alert">{wrong || problem}</p>}
      <label class="button quiet picture-add">
        <input type="file" class="spoken" accept="image/*" capture="environment" onChange={(event) => void take(event.currentTarget)} />
        {t(photo ? 'photo.another' : 'photo.add')}
      </label>
      {photo && (
        <Button kind="quiet" onPress={() => setAsking(true)}>
          {t('picture.withdraw')}
        </Button>
      )}
      {asking && photo && <WithdrawPicture card={photo} site={site} fixture={id} of={id} onClose={() => setAsking(false)} />}
    </section>
  );
}
