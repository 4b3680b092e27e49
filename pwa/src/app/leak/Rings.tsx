import { useState } from 'preact/hooks';
import { Button, useModal } from '../../ui';
import { num, t, typed } from '../../words';
import { lastRing, ringAfter } from './rings';

interface Props {
  /** CSS pixels a millimetre. */
  perMm: number;
  /** The ring to begin with, in mm as text. */
  from: string | null;
  /** Takes a diameter in mm. */
  onTake: (mm: string) => void;
  onLeave: () => void;
}

/** The whole screen shows one ring at its true size, to be held beside the bubble; the person steps until they match. */
export function Rings({ perMm, from, onTake, onLeave }: Props) {
  const box = useModal();
  const [mm, setMm] = useState(typed(from ?? '') ?? 3);
  const words = `${num(mm)} mm`;
  const step = (by: 1 | -1) => setMm(ringAfter(mm, by));
  return (
    <dialog class="rings" ref={box} onClose={() => box.current && onLeave()} aria-label={t('ring.title')}>
      <div class="ring-stage">
        <svg width={perMm * mm} height={perMm * mm} role="img" aria-label={t('ring.label', { size: words })}>
          <circle cx="50%" cy="50%" r={(perMm * mm) / 2} fill="currentColor" />
          <circle cx="50%" cy="50%" r={Math.max(0, (perMm * mm) / 2 - 2)} fill="var(--paper)" />
        </svg>
      </div>
      <p class="ring-size" aria-live="polite">{words}</p>
      <p class="small soft">{t('ring.lead')}</p>
      <div class="beside">
        <Button disabled={mm === ringAfter(mm, -1)} onPress={() => step(-1)}>{t('ring.smaller')}</Button>
        <Button disabled={mm === lastRing} onPress={() => step(1)}>{t('ring.larger')}</Button>
      </div>
      <div class="beside">
        <Button kind="quiet" onPress={onLeave}>{t('ring.leave')}</Button>
        <Button kind="main" onPress={() => onTake(String(mm))}>{t('ring.take', { size: words })}</Button>
      </div>
    </dialog>
  );
}
