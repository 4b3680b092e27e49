import { useEffect, useRef } from 'preact/hooks';
import type { Watch, WatchStep } from '../../engine/types';
import { unitWords } from '../../ui';
import { num, said, t } from '../../words';
import { clock } from '../../words/when';
import { tick, wake } from '../leak/sound';
import { useSeconds } from '../useClock';

interface Props {
  since: number | null;
  watch: Watch | null;
}

/** The clock, and what the look shows by now: how far the leak is bounded, and when that is enough. */
export function Showing({ since, watch }: Props) {
  const seconds = useSeconds(since);
  const at = watch?.enough ?? 0;
  const enough = at > 0 && seconds >= at;
  const step = watch === null ? undefined : stepAt(watch.steps, seconds);
  useRing(since, at > 0, enough);
  return (
    <div class={enough ? 'watch enough' : 'watch'}>
      <div class="watch-numbers">
        <span class="clock" role="timer" aria-label={t('look.clock')}>
          {clock(seconds)}
        </span>
        {step && (
          <span class="by-now">
            <span class="spoken">{t('look.below')}</span> <strong>{num(step.high)}</strong>
          </span>
        )}
      </div>
      {watch && step && <p class="by-unit small soft">{unitWords(watch.unit, watch.ref)}</p>}
      {at > 0 && <progress max={at} value={Math.min(seconds, at)} aria-hidden="true" />}
      <div class="showing small">
        <p class="strong" role="status">
          {enough && <Tick />}
          {watch === null ? t('look.tapBubbling') : verdict(watch, enough)}
        </p>
        {watch && step && <p>{ofRound(watch, step)}</p>}
      </div>
    </div>
  );
}

function Tick() {
  return (
    <svg viewBox="0 0 24 24" aria-hidden="true" focusable="false">
      <path d="M4 12.5 10 18.5 20.5 6" fill="none" stroke="currentColor" stroke-width="4" />
    </svg>
  );
}

/** Whether the look is long enough for what the station may leak, when it will be, or why it never is. */
function verdict({ counted, cannot, enough: at }: Watch, enough: boolean): string {
  if (counted === 0) return t('look.notCounted');
  if (enough) return t('look.enough');
  if (at > 0) return t('look.enoughAt', { time: clock(at) });
  return cannot ? t('look.cannot', { why: said('cannot', cannot) }) : t('look.tapBubbling');
}

/** What the round shows with this group, which of its looks were too short for that, and how many joints are left. */
function ofRound(watch: Watch, step: WatchStep): string {
  const round = step.share === undefined ? t('look.round', { high: step.all }) : t('look.roundShare', { share: step.share });
  const short = watch.short ? ` ${t('look.short', { n: watch.short })}` : '';
  return `${round} ${watch.left === 0 ? t('look.noneLeft') : t('look.left', { n: watch.left })}${short}`;
}

/** Sounds and shakes once for a clock, when it comes to what is enough; not where it has passed that when the screen opens. */
function useRing(since: number | null, known: boolean, enough: boolean): void {
  const awaited = useRef<number | null>(null);
  const rung = useRef<number | null>(null);
  useEffect(() => {
    if (known && !enough) awaited.current = since;
    if (!enough || since === null || awaited.current !== since || rung.current === since) return;
    rung.current = since;
    wake();
    tick(10);
    navigator.vibrate?.([60, 60, 60]);
  }, [since, known, enough]);
}

/** The last step that the clock has passed. */
export function stepAt(steps: readonly WatchStep[], seconds: number): WatchStep | undefined {
  return steps.findLast((step) => step.seconds <= seconds);
}
