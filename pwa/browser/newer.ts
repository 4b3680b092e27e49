import { createServer, request, type Server } from 'node:http';
import type { Installation } from './installation';

/** Stands before a server and, once told to, serves the app as a newer build of it would: its worker differs in a byte. */
export class Newer {
  private newer = false;

  private constructor(
    private readonly server: Server,
    readonly address: string,
  ) {}

  static async before(installation: Installation): Promise<Newer> {
    let made: Newer | undefined;
    const server = createServer((asked, answer) => {
      const worker = asked.url === '/sw.js';
      const headers = { ...asked.headers, host: `localhost:${installation.port}` };
      if (worker) for (const name of ['accept-encoding', 'if-none-match', 'if-modified-since'] as const) delete headers[name];
      const passed = request({ port: installation.port, host: '127.0.0.1', path: asked.url, method: asked.method, headers }, (got) => {
        const changed = worker && made?.newer === true;
        if (changed) delete got.headers['content-length'];
        answer.writeHead(got.statusCode ?? 502, got.headers);
        got.pipe(answer, { end: !changed });
        if (changed) got.on('end', () => answer.end('\n// newer\n'));
      });
      passed.on('error', () => answer.destroy());
      asked.pipe(passed);
    });
    await new Promise<void>((listening) => server.listen(0, '127.0.0.1', listening));
    const at = server.address();
    if (at === null || typeof at === 'string') throw new Error('no port');
    made = new Newer(server, `http://localhost:${at.port}`);
    return made;
  }

  /** From now on there is a newer build. */
  release(): void {
    this.newer = true;
  }

  end(): void {
    this.server.closeAllConnections();
    this.server.close();
  }
}
