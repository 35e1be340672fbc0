/** A browser without scripts, as far as the service is concerned: keeps cookies, follows nothing by itself, sends forms of pages it has read. */
import type { Hono } from 'hono';

const HOST = 'orders.example.org';

export class Visitor {
  readonly #app: Hono;
  readonly #cookies = new Map<string, string>();
  html = '';
  status = 0;
  headers = new Headers();

  constructor(app: Hono) {
    this.#app = app;
  }

  async get(path: string, headers: Record<string, string> = {}): Promise<string> {
    return this.#ask(path, { headers });
  }

  /** With the token of the page read last, unless another is said. */
  async post(path: string, fields: Record<string, string>, headers: Record<string, string> = {}): Promise<string> {
    const token = /name="token" value="([0-9a-f]{64})"/.exec(this.html)?.[1];
    const body = new URLSearchParams({ ...(token === undefined ? {} : { token }), ...fields });
    const own = { origin: `https://${HOST}`, 'content-type': 'application/x-www-form-urlencoded' };
    return this.#ask(path, { method: 'POST', headers: { ...own, ...headers }, body: body.toString() });
  }

  async #ask(path: string, init: RequestInit & { headers: Record<string, string> }): Promise<string> {
    const cookie = [...this.#cookies].map(([name, value]) => `${name}=${value}`).join('; ');
    const headers = { host: HOST, ...(cookie === '' ? {} : { cookie }), ...init.headers };
    const answer = await this.#app.request(path, { ...init, headers });
    for (const line of answer.headers.getSetCookie()) {
      const [, name = '', value = ''] = /^([^=]+)=([^;]*)/.exec(line)!;
      this.#cookies.set(name, value);
    }
    this.status = answer.status;
    this.headers = answer.headers;
    this.html = await answer.text();
    return this.html;
  }

  get location(): string {
    return this.headers.get('location') ?? '';
  }
}
