/**
 * What the suites need of a browser, whichever engine it is: a few methods that
 * every way of driving one can give.
 */

/** Something that a page wrote to its console. */
export type Hearing = (text: string) => void;

/** The page's process died by itself: no kill of ours, and nothing that is asked of the page is answered any more. */
export class Crashed extends Error {}

/** A running browser with one page, on a profile of its own. */
export interface Browser {
  /** Loads an address. Rejects when nothing answers. */
  goto(address: string): Promise<void>;
  address(): Promise<string>;
  /**
   * Runs a function in the page and gives what it resolves to. It is handed over as text: it sees nothing of here but
   * its arguments, which cross as JSON like its answer.
   */
  run<A extends unknown[], T>(script: (...args: A) => T | Promise<T>, ...args: A): Promise<T>;
  /** A press at a place of the window, held for so many ms: a touch where the engine can be sent one, else the mouse. */
  tap(x: number, y: number, held?: number): Promise<void>;
  /** Types into what has the focus. */
  type(text: string): Promise<void>;
  /** A picture of the window as PNG. */
  shot(path: string): Promise<void>;
  /** Hears what the page writes to its console from now on; nothing where the engine tells none. */
  hear(hearing: Hearing): void;
  /** Closes it as a person does. */
  close(): Promise<void>;
  /** Finds every process of it; what it gives sends SIGKILL to all of them at once and resolves when they are gone. */
  aim(): () => Promise<void>;
}

/** An engine that can be opened. */
export interface Engine {
  name: 'chromium' | 'firefox' | 'webkit';
  /** What it calls itself, with its version. */
  version(): string;
  /** How it is driven. */
  by: string;
  /** Whether it lends synchronous file handles, and so keeps records over a kill. */
  keeps: boolean;
  /** Whether a killed browser can be opened again on the same profile. */
  profiles: boolean;
  open(profile: string): Promise<Browser>;
}

/** The window of every engine: a phone's, in CSS pixels. */
export const phoneSize = { width: 390, height: 844 };

/** A function of the page with its arguments, as one expression. */
export function expression(script: (...args: never[]) => unknown, args: unknown[]): string {
  return `(${script.toString()})(...${JSON.stringify(args)})`;
}
