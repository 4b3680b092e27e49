import { useRef, useState } from 'preact/hooks';
import { Button } from '../../ui';
import { momentOf } from '../../ui/moment';
import { num, t } from '../../words';
import { useClock } from '../useClock';
import { Hold } from './Hold';
import { Locked } from './Locked';
import type { LeakDraft } from './observation';
import { note, tick } from './sound';
import { tapped } from './taps';
import { touches, touchOf } from './touches';
import { useKey } from './useKey';

interface ClockProps {
  draft: LeakDraft;
  /** Ends the counting at a moment, in ms since 1970. */
  onStop: (at: number) => void;
}

/** Nobody counts bubbles in less, in ms: a press so soon is the one that started it. */
const startled = 500;

/** A stopwatch runs: it stands large, and one press stops it at the moment when the finger came down. */
export function RunningClock({ draft, onStop }: ClockProps) {
  const seconds = useClock(draft.startedAt);
  const down = useRef<number | null>(null);
  const stop = (at: number) => {
    const when = momentOf(at);
    if (when - (draft.startedAt ?? 0) < startled) return;
    note('stop');
    navigator.vibrate?.(25);
    onStop(when);
  };
  useKey(true, stop);
  return (
    <Locked label={t('leak.running')}>
      <div class="tap-area">
        <span class="pulse" />
        <span class="tap-count" role="timer">
          {num(seconds.toFixed(1))}
        </span>
        <span>{t(hints[draft.how])}</span>
      </div>
      <div class="act">
        <button
          type="button"
          class="button main stop"
          data-counts
          ref={focused}
          onPointerDown={(event) => (down.current = event.timeStamp)}
          onClick={(event) => stop(event.detail === 0 ? event.timeStamp : (down.current ?? event.timeStamp))}
        >
          {t(draft.how === 'ten' ? 'leak.stopTen' : 'leak.stopNow')}
        </button>
      </div>
    </Locked>
  );
}

const hints = {
  window: 'leak.runningWindow', ten: 'leak.runningTen', taps: 'leak.tapArea', dome: 'leak.runningDome', froth: 'leak.runningFroth', collected: 'leak.hint.collected', class: 'leak.hint.class',
} as const;

interface TapProps {
  /** Taps so far, in seconds from the first. */
  taps: readonly number[];
  onTaps: (taps: number[]) => void;
  onDone: () => void;
}

/**
 * Blind counting: the whole screen is one key. It answers by a pulse, a sound and, where the phone can, by shaking.
 */
export function RunningTaps({ taps, onTaps, onDone }: TapProps) {
  const { tap, off, touch, pulse } = useTaps(taps, onTaps);
  useKey(true, tap);
  return (
    <Locked label={t('leak.tapArea')}>
      <button
        type="button"
        class="tap-area"
        data-counts
        ref={focused}
        onPointerDown={touch}
        onPointerMove={touch}
        onPointerUp={touch}
        onPointerCancel={touch}
        onClick={(event) => event.detail === 0 && tap(event.timeStamp)} // a screen reader's
        aria-label={t('leak.tapArea')}
      >
        <span key={pulse} class={pulse > 0 ? 'pulse' : ''} />
        <span class="tap-count">{t('leak.tapCount', { n: taps.length })}</span>
        <span>{t('leak.tapArea')}</span>
        <span class="small soft">{t('leak.keys')}</span>
      </button>
      <div class="act">
        <div class="beside">
          <Button kind="quiet" disabled={taps.length === 0} onPress={off}>
            {t('leak.tapOff')}
          </Button>
          <Hold words={t('leak.tapDone', { n: taps.length })} onDone={onDone} />
        </div>
      </div>
    </Locked>
  );
}

/** One tap more, one off, and what a pointer's event means; `pulse` grows with each tap that counts. */
function useTaps(taps: readonly number[], onTaps: (taps: number[]) => void) {
  const zero = useRef<number | null>(null);
  const follow = useRef(touches(performance.now()));
  const [pulse, setPulse] = useState(0);
  const tap = (at: number) => {
    zero.current ??= at;
    const next = tapped(taps, zero.current, at);
    if (next.length === taps.length) return;
    onTaps(next);
    setPulse((n) => n + 1);
    tick(next.length);
    navigator.vibrate?.(25);
  };
  const off = () => {
    if (taps.length === 1) zero.current = null;
    onTaps(taps.slice(0, -1));
    note('undo');
  };
  const touch = (event: PointerEvent) => {
    const seen = touchOf(event);
    const said = seen && follow.current(seen);
    if (said === 'tap') tap(event.timeStamp);
    else if (said === 'undo') off();
  };
  return { tap, off, touch, pulse };
}

function focused(button: HTMLButtonElement | null): void {
  button?.focus();
}
