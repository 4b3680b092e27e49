import { useEffect, useState } from 'preact/hooks';
import { pictureOf } from '../../engine/client';
import type { Picture } from '../../engine/types';
import { t } from '../../words';

/** One picture: from this device while it is still here, else from the server. */
export function PictureShown({ picture, words }: { picture: Picture; words: string }) {
  const [address, setAddress] = useState<string | null>(null);
  const [away, setAway] = useState(false);
  useEffect(() => {
    let local: string | null = null;
    let gone = false;
    void pictureOf(picture.hash)
      .catch(() => null)
      .then((bytes) => {
        if (gone) return;
        if (bytes !== null) local = URL.createObjectURL(new Blob([bytes.slice()], { type: picture.type }));
        setAddress(local ?? `/api/pictures/${picture.hash}`);
      });
    return () => {
      gone = true;
      if (local !== null) URL.revokeObjectURL(local);
    };
  }, [picture.hash]);
  if (away) return <p class="small soft">{t('finding.picture-away')}</p>;
  if (address === null) return null;
  return (
    <img
      src={address}
      width={picture.width}
      height={picture.height}
      alt={words}
      onError={() => setAway(true)}
    />
  );
}
