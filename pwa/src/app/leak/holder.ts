/** Makes a button one to hold: fingers, keys and screen readers, and the filling that shows it. */
import { holding, touchOf } from './touches';

/** What stands on the button: that it is to be held, that it is being held, or that a second press does it. */
export type Says = 'hold' | 'holdOn' | 'holdAgain';

/** Within this a second press of a key does what the first armed, in ms. Judgement. */
const armedFor = 4000;

/** Sooner than this nothing was let go, in ms: longer than a contact may break. */
const settled = 60;

const pointers = ['pointerdown', 'pointermove', 'pointerup', 'pointercancel'] as const;

/** Lets a button be held until the returned function is called. */
export function holder(button: HTMLElement, say: (words: Says) => void, done: () => void): () => void {
  const quiet = new AbortController();
  const listen = { signal: quiet.signal };
  const fill = new Filling(button, say, done);
  let reader = false;
  for (const kind of pointers) {
    button.addEventListener(kind, (event) => {
      if (kind === 'pointerdown') reader = event.width === 0 && event.height === 0; // no finger: a screen reader's press
      if (!reader) fill.pointer(event);
    }, listen);
  }
  button.addEventListener('click', ({ detail }) => (detail === 0 || reader) && fill.finish(), listen);
  button.addEventListener('contextmenu', (event) => event.preventDefault(), listen); // a long press is ours
  for (const kind of ['keydown', 'keyup'] as const) button.addEventListener(kind, (event) => fill.key(event), listen);
  return () => {
    quiet.abort();
    fill.stop();
  };
}

class Filling {
  private hold = holding();
  private timer: ReturnType<typeof setInterval> | undefined;
  private since = 0;
  private armed = -Infinity;
  private finger = false;

  constructor(
    private readonly button: HTMLElement,
    private readonly say: (words: Says) => void,
    private readonly done: () => void,
  ) {}

  pointer(event: PointerEvent): void {
    const touch = touchOf(event);
    if (touch === null) return;
    this.hold.touch(touch);
    if (touch.what !== 'down') return;
    this.finger = true;
    this.run();
  }

  key(event: KeyboardEvent): void {
    if (event.key !== ' ' && event.key !== 'Enter') return;
    event.preventDefault(); // no click of its own
    if (event.repeat) return;
    const what = event.type === 'keydown' ? 'down' : 'up';
    if (what === 'down' && event.timeStamp - this.armed < armedFor) return this.finish();
    if (what === 'down') this.armed = event.timeStamp;
    this.hold.touch({ what, id: -1, at: event.timeStamp, x: 0, y: 0 });
    if (what !== 'down') return;
    this.finger = false;
    this.run();
  }

  finish(): void {
    this.armed = -Infinity;
    this.stop();
    this.done();
  }

  stop(): void {
    clearInterval(this.timer);
    this.timer = undefined;
    this.hold = holding();
    this.button.style.setProperty('--filled', '0');
    this.say(performance.now() - this.armed < armedFor ? 'holdAgain' : 'hold');
  }

  private run(): void {
    if (this.timer !== undefined) return;
    this.since = performance.now();
    this.timer = setInterval(() => this.step(), 20);
    this.say('holdOn');
  }

  private step(): void {
    const now = performance.now();
    const filled = this.hold.filled(now);
    this.button.style.setProperty('--filled', String(filled));
    if (filled >= 1) {
      if (this.finger) liftUnheard();
      this.finish();
    } else if (filled === 0 && now - this.since > settled) this.stop();
  }
}

/** How long after a finger is lifted its press may still come, in ms. Judgement. */
const late = 300;

/** The finger is still on the glass when its hold is done: lifting it presses nothing of what stands there by then. */
function liftUnheard(): void {
  const over = new AbortController();
  const listen = { capture: true, signal: over.signal };
  const unheard = (event: Event) => {
    event.preventDefault();
    event.stopImmediatePropagation();
    over.abort();
  };
  addEventListener('click', unheard, listen);
  addEventListener('pointerdown', () => over.abort(), listen);
  for (const end of ['pointerup', 'pointercancel'] as const) addEventListener(end, () => setTimeout(() => over.abort(), late), listen);
}
