import { useEffect, useState } from 'preact/hooks';
import { pictureOf } from '../../engine/client';
import type { Picture } from '../../engine/types';

/** Where a picture can be drawn from: this device while it is still here, else the server; null until it is known. */
export function usePicture(picture: Picture): string | null {
  const [address, setAddress] = useState<string | null>(null);
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
  return address;
}
