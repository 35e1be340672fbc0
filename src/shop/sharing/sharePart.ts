/**
 * The organiser's page as a part of the service, behind its guards: an address nobody can guess, and a password besides. Tries are few;
 * whoever knew the password has a cookie that ends with it. Rules OG29–OG31.
 */
import { createHmac, timingSafeEqual } from 'node:crypto';
import { open } from 'node:fs/promises';
import { Readable } from 'node:stream';
import type { Context, Hono } from 'hono';
import { z } from 'zod';
import { textOf } from '../pages/frame.js';
import { jsonOf } from '../service/adminApp.js';
import { isPassword } from '../service/adminKeys.js';
import { type Forms, formsOf } from '../service/forms.js';
import { Limiter } from '../service/limiter.js';
import type { ShopPart, ShopPorts } from '../service/types.js';
import { doorPage, sharePage } from './sharePages.js';
import { fileOf, removeShared, type Share, shareIn } from './shares.js';

const ID = '[0-9a-f]{32}';
/** Each costs this machine a tenth of a second, and five a minute guess nothing. */
const TRIES = { perSecond: 1 / 12, atOnce: 5 } as const;
const SEEN_FOR_MS = 12 * 3_600_000;

/** `folder`: `shares/` of the service's data folder; it need not be there. */
export function sharePart(ports: Pick<ShopPorts, 'settings' | 'site' | 'now'>, folder: string): ShopPart {
  const side = new Sharing(ports, folder);
  return {
    addTo: (app) => side.addTo(app),
    addToAdmin: (app) => {
      app.post('/api/shares/remove', async (context) => {
        const { names } = removeSchema.parse(await jsonOf(context.req));
        return context.json({ removed: await removeShared(folder, new Set(names)) });
      });
    },
    onOrderPage: () => Promise.resolve(null),
    told: () => {},
    start: () => {},
    close: () => Promise.resolve(),
  };
}

const removeSchema = z.object({ names: z.array(z.string().regex(/^[a-z0-9-]{1,120}$/)).max(200_000) });

class Sharing {
  readonly #ports: Pick<ShopPorts, 'settings' | 'site' | 'now'>;
  readonly #folder: string;
  readonly #forms: Forms;
  readonly #tries: Limiter;

  constructor(ports: Pick<ShopPorts, 'settings' | 'site' | 'now'>, folder: string) {
    this.#ports = ports;
    this.#folder = folder;
    this.#forms = formsOf(ports);
    this.#tries = new Limiter(TRIES, ports.now);
  }

  addTo(app: Hono): void {
    app.get(`/for/:share{${ID}}`, (context) => this.#page(context));
    app.post(`/for/:share{${ID}}`, (context) => this.#knock(context));
    app.get(`/for/:share{${ID}}/:kind{pictures|small|papers}/:name`, (context) => this.#file(context));
  }

  #shareOf(context: Context): Promise<Share | null> {
    return shareIn(this.#folder, context.req.param('share') ?? '', this.#ports.now());
  }

  async #page(context: Context): Promise<Response> {
    const share = await this.#shareOf(context);
    if (share === null) return context.notFound() as Promise<Response>;
    return this.#isLetIn(context, share)
      ? this.#show(context, sharePage(share, this.#forms.language(context)), 200)
      : this.#door(context, share, null, 200);
  }

  async #knock(context: Context): Promise<Response> {
    const share = await this.#shareOf(context);
    if (share === null) return context.notFound() as Promise<Response>;
    const { token, password } = await context.req.parseBody().catch(() => ({}) as Record<string, unknown>);
    if (!this.#forms.isOurs(context, token)) return this.#door(context, share, null, 403);
    if (!this.#tries.take(share.id)) return this.#door(context, share, 'tooOften', 429);
    const isRight =
      typeof password === 'string' &&
      password.length > 0 &&
      password.length <= 200 &&
      (await isPassword(password, share.passwordHash));
    if (!isRight) return this.#door(context, share, 'wrong', 403);
    // The organiser's people come one after another, and none of them guesses.
    this.#tries.giveBack(share.id);
    const until = String(this.#ports.now() + SEEN_FOR_MS);
    this.#forms.setCookie(context, cookieOf(share), `${until}.${this.#sealOf(share, until)}`);
    return context.redirect(`/for/${share.id}`, 303);
  }

  async #file(context: Context): Promise<Response> {
    const share = await this.#shareOf(context);
    if (share === null || !this.#isLetIn(context, share)) return context.notFound() as Promise<Response>;
    const kind = context.req.param('kind')!;
    const name = context.req.param('name')!;
    const file = await fileOf(share, kind, name);
    // Opened before anything is answered: an error on the way would say the path.
    const opened = file === null ? null : await open(file.path).catch(cannotRead);
    if (file === null || opened === null) return context.notFound() as Promise<Response>;
    const headers = {
      'content-type': file.type,
      'content-length': String(file.bytes),
      'content-disposition': `${kind === 'small' ? 'inline' : 'attachment'}; filename="${name}"`,
      'cache-control': 'private, no-store',
    };
    const isHead = context.req.method === 'HEAD';
    if (isHead) await opened.close();
    const body = isHead ? null : (Readable.toWeb(opened.createReadStream()) as ReadableStream<Uint8Array>);
    return new Response(body, { headers });
  }

  /** Of this share and this password alone: another password lets nobody in who knew the one before. */
  #sealOf({ id, passwordHash }: Share, until: string): string {
    return createHmac('sha256', Buffer.from(this.#ports.settings.secret, 'hex'))
      .update(JSON.stringify(['share', id, passwordHash, until]))
      .digest('hex');
  }

  #isLetIn(context: Context, share: Share): boolean {
    const [, until = '', seal = ''] =
      /^(\d{1,16})\.([0-9a-f]{64})$/.exec(this.#forms.cookie(context, cookieOf(share)) ?? '') ?? [];
    if (seal === '' || Number(until) <= this.#ports.now()) return false;
    return timingSafeEqual(Buffer.from(seal), Buffer.from(this.#sealOf(share, until)));
  }

  #door(
    context: Context,
    share: Share,
    refused: 'wrong' | 'tooOften' | null,
    status: 200 | 403 | 429,
  ): Promise<Response> {
    const page = doorPage(share, this.#forms.token(context), refused, this.#forms.language(context));
    return this.#show(context, page, status);
  }

  async #show(context: Context, page: ReturnType<typeof sharePage>, status: 200 | 403 | 429): Promise<Response> {
    return context.html(await textOf(page), status, { 'cache-control': 'no-store' });
  }
}

function cannotRead({ message }: Error): null {
  console.error(`A file of a share could not be read: ${message}`);
  return null;
}

const cookieOf = ({ id }: Share): string => `share-${id}`;
