/** Screens' drafts on their way into the engine: gathered for a moment, then kept. */

const moment = 400; // ms: of what a kill takes, this is the most

export class Drafts {
  private pending = new Map<string, unknown>();
  private timer: ReturnType<typeof setTimeout> | undefined;

  constructor(private readonly store: (key: string, value: unknown) => Promise<unknown>) {}

  keep(key: string, value: unknown): void {
    this.pending.set(key, value);
    this.timer ??= setTimeout(() => this.flush(), moment);
  }

  /** What waits under a key, undefined when nothing does. */
  waiting(key: string): unknown {
    return this.pending.get(key);
  }

  forget(key: string): void {
    this.pending.delete(key);
  }

  /** Hands everything over at once. A refusal is the status's business, not a draft's. */
  flush(): void {
    clearTimeout(this.timer);
    this.timer = undefined;
    for (const [key, value] of this.pending) this.store(key, value).catch(() => undefined);
    this.pending.clear();
  }
}
