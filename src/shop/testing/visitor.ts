/** A browser without scripts, as far as the service is concerned: keeps cookies, follows nothing by itself, sends forms of pages it has read. */

export const HOST = 'orders.example.org';

type Init = Omit<RequestInit, 'headers'> & { headers: Record<string, string> };

/** The application itself, or a service that is reached over a socket. */
interface Asked {
  request(path: string, init: Init): Response | Promise<Response>;
}

export class Visitor {
  readonly #app: Asked;
  readonly #cookies = new Map<string, string>();
  html = '';
  status = 0;
  headers = new Headers();

  constructor(app: Asked) {
    this.#app = app;
  }

  async get(path: string, headers: Record<string, string> = {}): Promise<string> {
    return this.#ask(path, { headers });
  }

  /** With the token of the page read last, unless another is said. */
  async post(path: string, fields: Record<string, string>, headers: Record<string, string> = {}): Promise<string> {
    const { token } = this;
    const body = new URLSearchParams({ ...(token === '' ? {} : { token }), ...fields });
    const own = { origin: `https://${HOST}`, 'content-type': 'application/x-www-form-urlencoded' };
    return this.#ask(path, { method: 'POST', headers: { ...own, ...headers }, body: body.toString() });
  }

  async #ask(path: string, init: Init): Promise<string> {
    const { cookie } = this;
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

  get cookie(): string {
    return [...this.#cookies].map(([name, value]) => `${name}=${value}`).join('; ');
  }

  /** Of the page read last. */
  get token(): string {
    return /name="token" value="([0-9a-f]{64})"/.exec(this.html)?.[1] ?? '';
  }

  get location(): string {
    return this.headers.get('location') ?? '';
  }
}
