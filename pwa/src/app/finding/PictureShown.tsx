import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import type { Picture } from '../../engine/types';
import { t } from '../../words';
import { ArrowLayer } from './ArrowLayer';
import { usePicture } from './usePicture';

/** One picture with its arrows and what else is drawn over it: from this device while it is still here, else from the server. */
export function PictureShown({ picture, words, children }: { picture: Picture; words: string; children?: ComponentChildren }) {
  const address = usePicture(picture);
  const [away, setAway] = useState(false);
  if (away) return <p class="small soft">{t('finding.picture-away')}</p>;
  if (address === null) return null;
  return (
    <span class="pictured">
      <img src={address} width={picture.width} height={picture.height} alt={words} onError={() => setAway(true)} />
      <ArrowLayer arrows={picture.arrows ?? []} width={picture.width} height={picture.height} />
      {children}
    </span>
  );
}
