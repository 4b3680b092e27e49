import { useState } from 'preact/hooks';
import type { Finding } from '../../engine/types';
import { t } from '../../words';
import { offerWithdrawal, useSaving } from '../save';
import { keep } from './keep';
import { PictureCard } from './PictureCard';

/** The pictures of a finding, and taking one more. */
export function Pictures({ finding }: { finding: Finding }) {
  const [wrong, setWrong] = useState('');
  const { problem, save } = useSaving();
  const { card, site } = finding;
  const take = async (input: HTMLInputElement) => {
    const file = input.files?.[0];
    input.value = '';
    if (file === undefined) return;
    const kept = await keep(file);
    setWrong('wrong' in kept ? kept.wrong : '');
    if ('wrong' in kept) return;
    const written = await save([
      { kind: 'picture-added', site, fixture: card.fixture, of: card.id, body: kept.picture },
    ]);
    if (written !== null) offerWithdrawal(t('finding.picture-kept'), site, written);
  };
  return (
    <section class="finding-part" aria-label={t('finding.pictures')}>
      <h2>{t('finding.pictures')}</h2>
      <div class="pictures">
        {finding.pictures.map((picture) => (
          <PictureCard key={picture.event} card={picture} finding={finding} />
        ))}
      </div>
      {(wrong || problem) && <p class="wrong" role="alert">{wrong || problem}</p>}
      <label class="button quiet picture-add">
        <input
          type="file"
          class="spoken"
          accept="image/*"
          capture="environment"
          onChange={(event) => void take(event.currentTarget)}
        />
        {t('finding.picture-add')}
      </label>
    </section>
  );
}
