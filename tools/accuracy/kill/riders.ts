/**
 * Riders, a provider and a photographer who go on through every kill: whatever was cut off is said again, as a phone, a provider and a
 * laptop would, until it is acknowledged; now and then a rider gives up. Their own books say what they were told.
 */
import { setTimeout as wait } from 'node:timers/promises';
import type { OrderId } from '../../../src/core/handover/orders/index.js';
import { bringFinals } from '../../../src/shop/handing/index.js';
import { type AdminClient, adminClient } from '../../../src/shop/service/adminClient.js';
import { MEETING } from '../../../src/shop/testing/shopDay.js';
import { Visitor } from '../../../src/shop/testing/visitor.js';
import { orderOf } from '../hostile/service.js';
import type { Moved, Sold } from './books.js';
import {
  DAY,
  filesOfLargeSet,
  LARGE_RIDER,
  laptopsMaker,
  PRICES,
  pictureOf,
  RIDERS,
  riderId,
  webhookOf,
} from './day.js';
import type { Asked, Life } from './service.js';

const KINDS = 8;
/** Whose zip is read while the service is killed. */
const LARGE_KINDS: readonly number[] = [0, 7];
const READ_PAUSE_MS = 2;
/** A rider whose order was cut off asks no more, one time in so many. */
const GIVES_UP_ONE_IN = 6;
const POLL_MS = 40;
const LINK_MS = 60_000;

export class Riders {
  readonly sold: Sold[] = [];
  readonly moved: Moved[] = [];
  /** Answers that came whole: what a kill is timed by. */
  answers = 0;
  cutOff = 0;
  zips = 0;
  resumedZips = 0;
  readonly wrong: string[] = [];
  readonly #random: () => number;
  #life: Promise<Life> = Promise.resolve(null as never);
  #begin: (life: Life) => void = () => undefined;
  #adminKey = '';

  constructor(random: () => number) {
    this.#random = random;
    this.closeDoor();
  }

  /** Before the kill, so that what is cut off waits for the next life. */
  closeDoor(): void {
    this.#life = new Promise((resolve) => {
      this.#begin = resolve;
    });
  }

  openDoor(life: Life, adminKey: string): void {
    this.#adminKey = adminKey;
    this.#begin(life);
  }

  #clientOf(life: Life): AdminClient {
    return adminClient(life.adminSite, this.#adminKey);
  }

  /** Said again after each kill until the answer is whole. */
  async #through<Result>(work: (life: Life) => Promise<Result>, givesUp = false): Promise<Result | null> {
    for (;;) {
      const life = await this.#life;
      try {
        const result = await work(life);
        this.answers += 1;
        return result;
      } catch (error) {
        if (!life.isKilled) throw error;
        this.cutOff += 1;
        if (givesUp && this.#random() < 1 / GIVES_UP_ONE_IN) return null;
      }
    }
  }

  /** Placing alone is given up now and then: what was told of money is told until it is taken. */
  async #ask(path: string, asked: Asked): Promise<Response> {
    const isPlacing = asked.method === 'POST' && path === `/${MEETING}/order`;
    const answer = await this.#through((life) => life.ask(path, asked), isPlacing);
    if (answer === null) throw new GaveUp();
    if (answer.status < 400) return answer;
    throw new Error(`Expected ${path} to be answered but got ${answer.status}: ${(await answer.text()).slice(0, 300)}`);
  }

  async comes(n: number): Promise<void> {
    try {
      await this.#buys(n);
    } catch (error) {
      if (!(error instanceof GaveUp)) throw error;
    }
  }

  /** From first page to last byte; each kind does something else. */
  async #buys(n: number): Promise<void> {
    const kind = n % KINDS;
    const phone = new Visitor({ request: (path, init) => this.#ask(path, init as Asked) });
    const isDay = kind !== 1;
    const who = LARGE_KINDS.includes(kind) ? LARGE_RIDER : riderId(n % RIDERS);
    const line = isDay ? `day:day:${who}:${DAY}:1` : `one:picture:${pictureOf(n % RIDERS)}:1`;
    const isPrepaid = kind === 5;
    const toPay = isDay ? PRICES.day : PRICES.one;
    const sold: Sold = { mail: `rider-${n}@example.org`, toPay, isPrepaid, id: null, cancelling: 'no' };
    if (isPrepaid) {
      await this.#prepay(n);
      await phone.get(`/${MEETING}/rider/${who}`);
      await phone.post(`/${MEETING}/basket`, { do: 'code', code: codeOf(n) });
    }
    this.sold.push(sold);
    sold.id = await orderOf(phone, line, { mail: sold.mail, name: 'Someone', way: kind === 4 ? 'cash' : 'provider' });
    await this.#settle(kind, n, sold, phone);
  }

  async #settle(kind: number, n: number, sold: Sold, phone: Visitor): Promise<void> {
    const half = Math.floor(sold.toPay / 2) - 1;
    switch (kind) {
      case 2:
        await Promise.all([this.#pay(sold, half, `a${n}`), this.#pay(sold, sold.toPay - half, `b${n}`)]);
        return;
      case 3:
        await Promise.all([this.#giveBack(sold, 1000, `back${n}`), this.#pay(sold, sold.toPay, `whole${n}`)]);
        return;
      case 4:
        return this.#takeCash(sold, `cash-${n}`.padEnd(8, '-'));
      case 5:
        return;
      case 6:
        sold.cancelling = 'asked';
        await phone.get(`/order/${sold.id}`);
        await phone.post(`/order/${sold.id}/cancel`, {});
        sold.cancelling = 'acknowledged';
        return;
      default:
        await this.#pay(sold, sold.toPay, `whole${n}`);
        if (LARGE_KINDS.includes(kind)) await this.#fetchZip(sold, phone);
    }
  }

  #move(sold: Sold, kind: Moved['kind'], amount: number, reference: string): Moved {
    const moved: Moved = { reference, mail: sold.mail, kind, amount, isAcknowledged: false };
    this.moved.push(moved);
    return moved;
  }

  #pay = (sold: Sold, amount: number, reference: string) =>
    this.#tellByWebhook(sold, this.#move(sold, 'paid', amount, reference), 'payment.succeeded');
  #giveBack = (sold: Sold, amount: number, reference: string) =>
    this.#tellByWebhook(sold, this.#move(sold, 'refunded', amount, reference), 'payment.refunded');

  /** Told again until it is taken, and once more for good measure, under the same id and under another. */
  async #tellByWebhook(sold: Sold, moved: Moved, type: string): Promise<void> {
    const { reference, amount } = moved;
    const data = { order: sold.id, amount, currency: 'GBP', reference };
    const send = (id: string) => this.#ask('/webhook/test', webhookOf(type, id, data));
    await send(`msg_${reference}`);
    moved.isAcknowledged = true;
    if (this.#random() < 0.3) await Promise.all([send(`msg_${reference}`), send(`msg_${reference}_again`)]);
  }

  async #takeCash(sold: Sold, reference: string): Promise<void> {
    const moved = this.#move(sold, 'paid', sold.toPay, reference);
    const fact = { kind: 'paid', amount: sold.toPay, way: 'cash', reference } as const;
    await this.#through((life) => this.#clientOf(life).tell(sold.id as OrderId, { key: reference, fact }));
    moved.isAcknowledged = true;
  }

  async #prepay(n: number): Promise<void> {
    const code = { code: codeOf(n), uses: 1, expiresAt: null } as const;
    await this.#through((life) =>
      this.#clientOf(life).putVoucher(MEETING, {
        ...code,
        kind: 'prepaid',
        worth: PRICES.day as never,
        reference: `booked ${n}`,
      }),
    );
  }

  /** Read slowly, so that many are cut off; gone on with where they ended; held against the whole in one piece. */
  async #fetchZip(sold: Sold, phone: Visitor): Promise<void> {
    const link = await this.#linkOf(sold, phone);
    const pieces = await this.#readThrough(`${link}/all.zip`);
    const whole = await this.#through(async (life) => {
      const answer = await life.open(`${link}/all.zip`);
      const all: Buffer[] = [];
      for await (const piece of answer) all.push(piece as Buffer);
      return Buffer.concat(all);
    });
    this.zips += 1;
    if (!pieces.equals(whole!)) this.wrong.push(`the zip of ${sold.mail} is another after it was gone on with`);
    if (!filesOfLargeSet().every((file) => whole!.includes(file)))
      this.wrong.push(`the zip of ${sold.mail} lacks a picture`);
  }

  async #linkOf(sold: Sold, phone: Visitor): Promise<string> {
    for (let waitedMs = 0; waitedMs < LINK_MS; waitedMs += POLL_MS) {
      const page = await phone.get(`/order/${sold.id}`);
      const found = /href="https?:\/\/[^/"]+(\/handed\/[^"]+)"/.exec(page)?.[1];
      if (found !== undefined) return found;
      await wait(POLL_MS);
    }
    throw new Error(`Expected a link on the page of ${sold.id}, but none came in ${LINK_MS / 1000} s.`);
  }

  async #readThrough(path: string): Promise<Buffer> {
    const got: Buffer[] = [];
    let at = 0;
    let bytes = Number.POSITIVE_INFINITY;
    let tag = '';
    await this.#through(async (life) => {
      if (at === bytes) return;
      const headers = at === 0 ? {} : { range: `bytes=${at}-`, 'if-range': tag };
      const answer = await life.open(path, { headers });
      const expected = at === 0 ? 200 : 206;
      if (answer.statusCode !== expected)
        throw new Error(`Expected ${expected} for a zip from byte ${at} on but got ${answer.statusCode}.`);
      if (at > 0) this.resumedZips += 1;
      else bytes = Number(answer.headers['content-length']);
      tag = answer.headers.etag ?? '';
      for await (const piece of answer) {
        got.push(piece as Buffer);
        at += (piece as Buffer).length;
        await wait(READ_PAUSE_MS);
      }
    });
    return Buffer.concat(got);
  }

  /** The laptop brings finals as long as the service lives; what was cut off it goes on with. */
  async laptop(life: Life): Promise<void> {
    const ask = this.#clientOf(life).plain;
    while (!life.isKilled)
      try {
        await bringFinals(ask, laptopsMaker);
        await wait(POLL_MS);
      } catch (error) {
        if (!life.isKilled) throw error;
      }
  }
}

class GaveUp extends Error {}

const codeOf = (n: number): string => `BOOKED-${n}`;
