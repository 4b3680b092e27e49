/** What was done under kills, held against what is there afterwards. Pure: the runs feed it. */

/** One saving on a screen: a look at each of those joints. */
export interface Act {
  round: string;
  joints: string[];
  result: string;
}

/** A look as it arrived at the server. */
export interface Look {
  round: string;
  joint: string;
  result: string;
}

/** What a comparison found. All but `kept` must be empty. */
export interface Reckoning {
  kept: number;
  missing: string[];
  doubled: string[];
  strange: string[];
}

const named = ({ round, joint, result }: Look): string => `${round} ${joint} ${result}`;

export class Account {
  private readonly kept: string[] = [];

  /**
   * What became of an act, as the device tells after a kill: how many of its joints stand there, and whether "saved" was
   * seen before. Throws where something that was shown as saved is gone, or where only a part was kept.
   */
  settle(act: Act, shown: boolean, there: number): boolean {
    const all = act.joints.map((joint) => named({ round: act.round, joint, result: act.result }));
    if (there !== 0 && there !== all.length) throw new Error(`of one saving ${there} of ${all.length} are there: ${all.join(', ')}`);
    if (shown && there === 0) throw new Error(`shown as saved, and gone: ${all.join(', ')}`);
    if (there > 0) this.kept.push(...all);
    return there > 0;
  }

  /** Holds what arrived against what the device kept. */
  reckon(arrived: readonly Look[]): Reckoning {
    const times = counted(arrived.map(named));
    const mine = new Set(this.kept);
    return {
      kept: this.kept.length,
      missing: this.kept.filter((one) => !times.has(one)),
      doubled: [...times].filter(([, n]) => n > 1).map(([one]) => one),
      strange: [...times.keys()].filter((one) => !mine.has(one)),
    };
  }
}

/** Events that a device acknowledged, by id, with their places in its log. */
export class Acknowledged {
  private readonly ids: string[] = [];
  private last = 0;

  get count(): number {
    return this.ids.length;
  }

  /** Takes an acknowledgement. Throws where a place was given twice: then the event that had it before is lost. */
  take(id: string, seq: number): void {
    if (seq <= this.last) throw new Error(`place ${seq} of the log was given again after ${this.last}`);
    this.ids.push(id);
    this.last = seq;
  }

  /** Holds the ids that arrived against those acknowledged. */
  reckon(arrived: readonly string[]): Omit<Reckoning, 'strange'> {
    const times = counted(arrived);
    return {
      kept: this.ids.length,
      missing: this.ids.filter((id) => !times.has(id)),
      doubled: [...times].filter(([, n]) => n > 1).map(([id]) => id),
    };
  }
}

function counted(all: readonly string[]): Map<string, number> {
  const times = new Map<string, number>();
  for (const one of all) times.set(one, (times.get(one) ?? 0) + 1);
  return times;
}
