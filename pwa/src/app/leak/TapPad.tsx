import { useRef, useState } from 'preact/hooks';
import { Button } from '../../ui';
import { t } from '../../words';
import { tick } from './sound';
import { tapped } from './taps';

interface Props {
  /** Taps so far, in seconds from the first. */
  taps: readonly number[];
  onTaps: (taps: number[]) => void;
  onDone: () => void;
}

/**
 * Blind counting: the whole screen is one key. It answers by a pulse, a sound
 * and, where the phone can, by shaking. Second fingers are ignored.
 */
export function TapPad({ taps, onTaps, onDone }: Props) {
  const zero = useRef<number | null>(null);
  const fingers = useRef(new Set<number>());
  const [pulse, setPulse] = useState(0);

  const tap = (at: number) => {
    zero.current ??= at - (taps.at(-1) ?? 0) * 1000 - (taps.length > 0 ? 1000 : 0);
    const next = tapped(taps, zero.current, at);
    if (next.length === taps.length) return;
    onTaps(next);
    setPulse(next.length);
    tick(next.length);
    navigator.vibrate?.(25);
  };
  const down = (event: PointerEvent) => {
    const alone = fingers.current.size === 0;
    fingers.current.add(event.pointerId);
    if (alone && event.isPrimary) tap(event.timeStamp);
  };
  const up = (event: PointerEvent) => fingers.current.delete(event.pointerId);
  const key = (event: KeyboardEvent) => {
    if (event.key !== ' ' && event.key !== 'Enter') return;
    event.preventDefault();
    if (!event.repeat) tap(event.timeStamp);
  };
  const off = () => {
    if (taps.length === 1) zero.current = null;
    onTaps(taps.slice(0, -1));
  };

  return (
    <div class="tap-pad" role="dialog" aria-modal="true" aria-label={t('leak.tapArea')}>
      <button
        type="button"
        class="tap-area"
        ref={focused}
        onPointerDown={down}
        onPointerUp={up}
        onPointerCancel={up}
        onKeyDown={key}
        aria-label={t('leak.tapArea')}
      >
        <span key={pulse} class={pulse > 0 ? 'pulse' : ''} />
        <span class="tap-count">{t('leak.tapCount', { n: taps.length })}</span>
        <span>{t('leak.tapArea')}</span>
      </button>
      <div class="act">
        <div class="beside">
          <Button kind="quiet" disabled={taps.length === 0} onPress={off}>
            {t('leak.tapOff')}
          </Button>
          <Button kind="main" onPress={onDone}>
            {t('leak.tapDone', { n: taps.length })}
          </Button>
        </div>
      </div>
    </div>
  );
}

function focused(button: HTMLButtonElement | null): void {
  button?.focus();
}
