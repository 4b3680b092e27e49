/**
 * Several tabs, one log: only one can hold the files; the others show one
 * button that takes them over. What is said on the channel only informs: the
 * exclusive file handle is the guard.
 */

/** What tabs say: who holds the files? I do. Let go of them. */
export type Word = 'who' | 'here' | 'let-go';

/** A BroadcastChannel, as it is needed here. */
export interface Channel {
  postMessage(word: Word): void;
  onmessage: ((event: MessageEvent<Word>) => void) | null;
}

/** This tab as the others deal with it. */
export interface Seat {
  /** Whether the files are open here. */
  holds(): boolean;
  /** Finishes what is being written and gives the files back. */
  letGo(): void;
  /** Stops trying to open the files: another tab has them. */
  leave(): void;
}

export class Tabs {
  /** Whether another tab was asked to let go: then that it is there is no news. */
  taking = false;
  private waiting: (() => void)[] = [];

  constructor(
    private readonly channel: Channel,
    private readonly seat: Seat,
  ) {
    channel.onmessage = ({ data }) => this.hear(data);
  }

  /** Asks whether another tab holds the files; if so this one leaves without waiting for them. */
  ask(): void {
    this.taking = false;
    this.channel.postMessage('who');
  }

  /** Asks the tab that holds the files to let go. */
  take(): void {
    this.taking = true;
    this.channel.postMessage('let-go');
  }

  /** The files are open here: tabs that still try need not. */
  opened(): void {
    this.taking = false;
    this.channel.postMessage('here');
  }

  /** Resolves once another tab says that it has the files. */
  heard(): Promise<void> {
    return new Promise((go) => this.waiting.push(go));
  }

  private hear(word: Word): void {
    if (word === 'here') for (const go of this.waiting.splice(0)) go();
    const holds = this.seat.holds();
    if (word === 'who' && holds) this.channel.postMessage('here');
    if (word === 'let-go' && holds) this.seat.letGo();
    if (word === 'here' && !holds && !this.taking) this.seat.leave();
  }
}
