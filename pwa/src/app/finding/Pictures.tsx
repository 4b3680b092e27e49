import type { Finding } from '../../engine/types';
import { t } from '../../words';
import { PictureCard } from './PictureCard';
import { TakePicture } from './TakePicture';

/** The pictures of a finding, and taking one more. */
export function Pictures({ finding }: { finding: Finding }) {
  const { card, site, pictures } = finding;
  return (
    <section class="finding-part" aria-label={t('finding.pictures')}>
      <h2>{t('finding.pictures')}</h2>
      <div class="pictures">
        {pictures.map((picture) => (
          <PictureCard key={picture.event} card={picture} finding={finding} />
        ))}
      </div>
      <TakePicture site={site} fixture={card.fixture} of={card.id} words={t('finding.picture-add')} />
    </section>
  );
}
