/**
 * Two hundred riders who look round the order service at once and twenty who order, each behind an address of their own as a reverse
 * proxy says it. Reference in the same run: the same riders at the same pace at the gallery's pages, as files from a plain server of Node's.
 * Both run in processes of their own on this machine, beside the riders.
 */
import { fork } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { type Random, seededRandom } from '../../src/core/numeric/random.js';
import { MEETING, offerOfDay, RIDER } from '../../src/shop/testing/shopDay.js';
import { Visitor } from '../../src/shop/testing/visitor.js';
import { shownGallery, writeShown } from '../../test/builders/shownGallery.js';
import { orderOf } from '../../tools/accuracy/hostile/service.js';
import { PRICES, settings, webhookOf } from '../../tools/accuracy/kill/day.js';
import { type Asked, builtProgram, Life, serviceOf } from '../../tools/accuracy/kill/service.js';
import type { Figures } from '../../tools/figures.js';

const RIDERS = 120;
const PICTURES_EACH = 25;
const BROWSING = 200;
const ORDERING = 20;
const PLAIN_MS = 6_000;
const SERVICE_MS = 14_000;
/** How long a page is looked at: short, as by someone who hunts for their own bike. */
const LOOK_MS = { least: 500, most: 1500 } as const;
/** Connections and code that is run for the first time are not what is asked. */
const WARM_UP_MS = 1_500;

const gallery = shownGallery({ riders: RIDERS, picturesEach: PICTURES_EACH });
const pictures = gallery.riders.flatMap((rider) => rider.pictures.map(({ id }) => id));
const offer = {
  ...offerOfDay,
  pictures: pictures.map((id) => ({ id, day: offerOfDay.firstDay })),
  // The first one is who every buyer looks at before they order.
  riders: gallery.riders.map(({ publicId, pictures: own }, n) => ({
    publicId: n === 0 ? RIDER : publicId,
    livery: 'red bike, black leathers',
    pictures: own.map(({ id }) => id),
    isJoinedByGuess: false,
  })),
};

export async function benchOrders(): Promise<Figures> {
  const folder = await mkdtemp(join(tmpdir(), 'tyrewall-bench-orders-'));
  const lives: Life[] = [];
  try {
    await writeShown(join(folder, 'gallery'), gallery);
    const program = await builtProgram(join(folder, 'built'));
    const wish = { program, data: join(folder, 'orders'), settings, offer, database: null, isBehindProxy: true };
    const plain = await plainServer(join(folder, 'gallery'));
    lives.push(plain);
    const service = await (await serviceOf(wish)).start();
    lives.push(service);
    const files = await load(plain, PLAIN_MS, (rider) => rider.looksAtGallery(), 0);
    const calls = await load(service, SERVICE_MS, (rider) => rider.looksRound(), ORDERING);
    return figuresOf(calls, files);
  } finally {
    await Promise.all(lives.map((life) => life.kill('SIGTERM')));
    await rm(folder, { recursive: true, force: true });
  }
}

function plainServer(folder: string): Promise<Life> {
  const child = fork(new URL('./plainChild.ts', import.meta.url), [folder], { execArgv: ['--import', 'tsx'] });
  return new Promise((resolve, reject) => {
    child.once('message', (site) => resolve(new Life(child, String(site), '')));
    child.once('close', () => reject(new Error('Expected the plain server to say where it listens, but it ended.')));
  });
}

interface Load {
  readonly times: number[];
  readonly errors: string[];
  orders: number;
}

async function load(life: Life, ms: number, look: (rider: Rider) => Promise<void>, ordering: number): Promise<Load> {
  const seen: Load = { times: [], errors: [], orders: 0 };
  const started = performance.now();
  const isOver = () => performance.now() - started > WARM_UP_MS + ms;
  const isCounted = () => performance.now() - started > WARM_UP_MS;
  const riders = Array.from({ length: BROWSING + ordering }, (_, n) => new Rider(life, n, seen, isCounted));
  await Promise.all(
    riders.map(async (rider, n) => {
      // Not all in the same millisecond.
      await rider.pause(0);
      while (!isOver())
        await (n < BROWSING ? look(rider) : rider.orders()).catch((error: Error) => seen.errors.push(error.message));
    }),
  );
  return seen;
}

class Rider {
  readonly #life: Life;
  readonly #n: number;
  readonly #seen: Load;
  readonly #isCounted: () => boolean;
  readonly #random: Random;
  #visitor: Visitor;

  constructor(life: Life, n: number, seen: Load, isCounted: () => boolean) {
    this.#life = life;
    this.#n = n;
    this.#seen = seen;
    this.#isCounted = isCounted;
    this.#random = seededRandom(n + 1);
    this.#visitor = this.#newVisitor();
  }

  #newVisitor = (): Visitor => new Visitor({ request: (path, init) => this.#ask(path, init as Asked) });

  async #ask(path: string, asked: Asked): Promise<Response> {
    const own = { ...asked.headers, 'x-forwarded-for': `10.1.${this.#n >> 8}.${this.#n & 255}` };
    const isCounted = this.#isCounted();
    const started = performance.now();
    const answer = await this.#life.ask(path, { ...asked, headers: own });
    if (isCounted) this.#seen.times.push(performance.now() - started);
    if (answer.status >= 400) throw new Error(`${asked.method ?? 'GET'} ${path} was answered ${answer.status}`);
    return answer;
  }

  pause = (least: number = LOOK_MS.least): Promise<void> => wait(this.#random.between(least, LOOK_MS.most));

  #rider = () => this.#random.oneOf(offer.riders);

  async looksAtGallery(): Promise<void> {
    const pages = [
      '/index.html',
      '/session-n1.html',
      '/colour-orange.html',
      `/rider/${this.#random.oneOf(gallery.riders).publicId}.html`,
    ];
    await this.#visitor.get(this.#random.oneOf(pages));
    await this.pause();
  }

  async looksRound(): Promise<void> {
    const { publicId, pictures: own } = this.#rider();
    const pages = ['', '?bike=red', `/rider/${publicId}`, `/picture/${this.#random.oneOf(own)}`, '/basket'];
    await this.#visitor.get(`/${MEETING}${this.#random.oneOf(pages)}`);
    await this.pause();
  }

  /** Each time somebody else, from a rider's page to the page that says it is paid. */
  async orders(): Promise<void> {
    const visitor = this.#newVisitor();
    const { publicId } = this.#rider();
    await this.pause();
    const line = `day:day:${publicId}:${offer.firstDay}:1`;
    const order = await orderOf(visitor, line, { name: 'Someone', way: 'provider' });
    await visitor.get(`/order/${order}`);
    const data = { order, amount: PRICES.day, currency: 'GBP', reference: `of ${order}` };
    await this.#ask('/webhook/test', webhookOf('payment.succeeded', `msg_${order}`, data));
    await visitor.get(`/order/${order}`);
    if (!visitor.html.includes('invoice-')) throw new Error(`${order} was paid but has no invoice.`);
    this.#seen.orders += 1;
  }
}

const at = (sorted: readonly number[], share: number): number => sorted[Math.floor((sorted.length - 1) * share)]!;

function figuresOf(calls: Load, files: Load): Figures {
  const [own, plain] = [calls, files].map(({ times }) => [...times].sort((a, b) => a - b)) as [number[], number[]];
  const errors = [...calls.errors, ...files.errors];
  for (const error of new Set(errors)) console.log(`  ${error}`);
  const said = (name: string, times: readonly number[]) =>
    `${name}: ${times.length} calls, half within ${at(times, 0.5).toFixed(1)} ms, 95 % within ${at(times, 0.95).toFixed(1)}, slowest ${at(times, 1).toFixed(0)}`;
  console.log(`  ${said('order service', own)}; ${calls.orders} orders placed and paid`);
  console.log(`  ${said('the gallery’s pages from a plain server', plain)}`);
  const note = `${BROWSING} riders looking round and ${ORDERING} ordering, ${RIDERS} riders and ${pictures.length} pictures on offer, ${own.length} calls`;
  return {
    'orders.p95Ms': { value: at(own, 0.95), unit: 'ms', better: 'lower', note },
    'orders.errors': {
      value: errors.length,
      unit: 'errors',
      better: 'lower',
      note: `of ${own.length + plain.length} calls`,
    },
    'orders.p95ToPlain': {
      value: at(own, 0.95) / at(plain, 0.95),
      unit: 'times',
      better: 'lower',
      note: 'the same riders at the same pace at the gallery’s pages from a plain server of files',
    },
  };
}
