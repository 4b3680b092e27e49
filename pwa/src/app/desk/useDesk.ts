import { useEffect, useState } from 'preact/hooks';

const wide = '(min-width: 900px)';

/** Whether there is room for a table: 900 px and more. */
export function useDesk(): boolean {
  const [is, set] = useState(() => matchMedia(wide).matches);
  useEffect(() => {
    const media = matchMedia(wide);
    const heard = () => set(media.matches);
    media.addEventListener('change', heard);
    return () => media.removeEventListener('change', heard);
  }, []);
  return is;
}
