/** Screens' drafts on their way into the engine: gathered for a moment, then kept. */
import { signal } from '@preact/signals';
import { yielding } from './finger';

const moment = 400; // ms: of what a kill takes, this is the most, but for a press that is drawn first

export class Drafts {
  private pending = new Map<string, unknown>();
  /** Keys of what is half entered on a screen that stands open. */
  readonly open = signal<ReadonlySet<string>>(new Set());
  private callOff: (() => void) | undefined;

  constructor(private readonly store: (key: string, value: unknown) => Promise<unknown>) {}

  keep(key: string, value: unknown): void {
    this.pending.set(key, value);
    this.callOff ??= yielding(moment, () => this.flush());
  }

  /** What waits under a key, undefined when nothing does. */
  waiting(key: string): unknown {
    return this.pending.get(key);
  }

  /** A screen shows a draft that somebody began. */
  begun(key: string): void {
    if (!this.open.value.has(key)) this.open.value = new Set([...this.open.value, key]);
  }

  /** The screen went; what it showed is kept and troubles nobody. */
  left(key: string): void {
    if (this.open.value.has(key)) this.open.value = new Set([...this.open.value].filter((one) => one !== key));
  }

  forget(key: string): void {
    this.left(key);
    this.pending.delete(key);
  }

  /** Hands everything over at once. A refusal is the status's business, not a draft's. */
  flush(): void {
    this.callOff?.();
    this.callOff = undefined;
    for (const [key, value] of this.pending) this.store(key, value).catch(() => undefined);
    this.pending.clear();
  }
}
