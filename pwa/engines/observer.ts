/** Somebody at the server's side, without a browser: the first person, who invites phones and reads what arrived. */
import { type Installation, until } from '../browser/installation';

/** A look as it arrived: one event. */
export interface Arrived {
  id: string;
  round: string;
  joint: string;
  result: string;
}

interface Line {
  id: string;
  kind: string;
  about: { of?: string };
  body: { round?: string; joint?: string; result?: string };
}

/** A site as the server tells it. */
export interface Site {
  id: string;
  name: string;
}

export class Observer {
  private constructor(
    private readonly address: string,
    private readonly cookie: string,
    readonly sites: Site[],
  ) {}

  /** Sets the installation up, with the invented site. */
  static async first(server: Installation): Promise<Observer> {
    await until(() => linked(server), () => 'the server shows no set-up link');
    const body = { code: server.setupLink.split('#')[1], name: 'First person', device: 'Desk', example: true };
    const answer = await fetch(`${server.address}/api/setup`, { method: 'POST', headers: { ...headers, Origin: server.address }, body: JSON.stringify(body) });
    const cookie = answer.headers.getSetCookie()[0]?.split(';')[0];
    if (!answer.ok || cookie === undefined) throw new Error(`set-up: ${answer.status} ${await answer.text()}`);
    const { sites } = (await answer.json()) as { sites: Site[] };
    return new Observer(server.address, cookie, sites);
  }

  /** The link that pairs one phone, for a technician of that name. */
  async invite(name: string): Promise<string> {
    const { link } = await this.told<{ link: string }>('POST', '/api/invitations', { name, grants: { '*': ['technician'] } });
    return link;
  }

  /** The answer to a screen's question. */
  ask<T>(question: string, args: unknown): Promise<T> {
    return this.told<T>('POST', `/api/ask/${question}`, args);
  }

  /** Every event in the feed of a site, older rounds too, in the order in which they came. */
  async feed(site: string): Promise<Line[]> {
    const all: Line[] = [];
    for (let cursor = '', more = true; more; ) {
      const slice = (await this.answer('GET', `/api/pull?all=1&site=${site}&cursor=${encodeURIComponent(cursor)}`)).trimEnd().split('\n');
      ({ cursor, more } = JSON.parse(slice.pop() ?? '{}') as { cursor: string; more: boolean });
      all.push(...slice.filter((_, n) => n % 2 === 0).map((line) => JSON.parse(line) as Line));
    }
    return all;
  }

  /** Every look that arrived from all sites, those taken back left out. */
  async looks(): Promise<Arrived[]> {
    const lines = (await Promise.all(this.sites.map(({ id }) => this.feed(id)))).flat();
    return lines
      .filter(({ kind }) => kind === 'look-made')
      .map(({ id, body }) => ({ id, round: body.round ?? '', joint: body.joint ?? '', result: body.result ?? '' }));
  }

  private async told<T>(method: string, path: string, body: unknown): Promise<T> {
    return JSON.parse(await this.answer(method, path, JSON.stringify(body))) as T;
  }

  private async answer(method: string, path: string, body?: string): Promise<string> {
    const answer = await fetch(this.address + path, { method, headers: { ...headers, Origin: this.address, Cookie: this.cookie }, ...(body === undefined ? {} : { body }) });
    const text = await answer.text();
    if (!answer.ok) throw new Error(`${path}: ${answer.status} ${text}`);
    return text;
  }
}

const headers = { 'Content-Type': 'application/json', 'X-Jointwalk': '1' };

/** Whether the set-up link is printed yet: it comes a moment after the first line. */
function linked(server: Installation): boolean {
  try {
    return server.setupLink !== '';
  } catch {
    return false;
  }
}
