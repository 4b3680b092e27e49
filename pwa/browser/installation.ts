import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** The program. */
export const binary = join(import.meta.dirname, '..', '..', 'bin', 'jointwalk');

const setupLink = /(https?:\/\/\S+\/setup#\S+)\n/;

/** A server of one test: its own folder, its own port, stopped and started at will. */
export class Installation {
  private static readonly started = new Set<Installation>();
  readonly folder = mkdtempSync(join(tmpdir(), 'jointwalk-'));
  private process: ChildProcess | undefined;
  private said = '';

  private constructor(
    readonly port: number,
    private readonly flags: string[],
    readonly address: string,
  ) {}

  static async start(flags: string[] = [], scheme = 'http', port?: number): Promise<Installation> {
    const at = port ?? (await freePort());
    const made = new Installation(at, flags, `${scheme}://localhost:${at}`);
    Installation.started.add(made);
    await made.run();
    await until(() => setupLink.test(made.said), () => `no setup link in:\n${made.said}`); // nobody is there yet
    return made;
  }

  /** Starts the server on the same folder and port and waits until it answers. */
  async run(): Promise<void> {
    this.said = '';
    const flags = ['--data', this.folder, '--listen', `127.0.0.1:${this.port}`, ...this.flags];
    this.process = spawn(binary, flags, { stdio: ['ignore', 'pipe', 'pipe'] });
    const hear = (chunk: Buffer): void => void (this.said += chunk.toString());
    this.process.stdout?.on('data', hear);
    this.process.stderr?.on('data', hear);
    await until(() => this.said.includes('serves'), () => `the server did not start:\n${this.said}`);
  }

  /** The id of the running process. */
  get pid(): number {
    if (this.process?.pid === undefined) throw new Error('the server does not run');
    return this.process.pid;
  }

  /** What the server said since its start, to the terminal and into the log. */
  readonly heard = (): string => this.said;

  /** The one-time link that the terminal shows. */
  get setupLink(): string {
    const link = setupLink.exec(this.said)?.[1];
    if (!link) throw new Error(`no setup link in:\n${this.said}`);
    return link;
  }

  /** Stops the server as an operator would, or kills it. */
  async stop(signal: 'SIGTERM' | 'SIGKILL' = 'SIGTERM'): Promise<void> {
    const running = this.process;
    this.process = undefined;
    if (!running || running.exitCode !== null) return;
    const gone = new Promise((resolve) => running.once('exit', resolve));
    running.kill(signal);
    await gone;
  }

  async end(): Promise<void> {
    Installation.started.delete(this);
    await this.stop('SIGKILL');
    rmSync(this.folder, { recursive: true, force: true });
  }

  /** Ends what a test left running. */
  static async endAll(): Promise<void> {
    for (const one of [...Installation.started]) await one.end();
  }
}

/** A port that nobody listens on. */
export function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const probe = createServer().listen(0, '127.0.0.1', () => {
      const address = probe.address();
      if (address === null || typeof address === 'string') return reject(new Error('no port'));
      probe.close(() => resolve(address.port));
    });
  });
}

/** Waits until something holds, up to 20 s. */
export async function until(holds: () => boolean | Promise<boolean>, otherwise: () => string): Promise<void> {
  const end = Date.now() + 20_000;
  while (!(await holds())) {
    if (Date.now() > end) throw new Error(otherwise());
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
}
