/** The admin side as the photographer's machine asks it; refusals come as the service's own sentences. */

import type { z } from 'zod';
import type { FactToTell, RemovedThing } from '../../core/handover/law/index.js';
import type { Offer, OrderId, Release, Voucher } from '../../core/handover/orders/index.js';
import type { PublicId } from '../../core/handover/types.js';
import type { EpochMs } from '../../core/units.js';
import type { NumberedMessage } from '../db/index.js';
import type { AskAdmin, Sign, WaitingOrder } from '../handing/index.js';
import type { AdminOrder, FactsPage, Where } from './adminApp.js';
import type { toldSchema } from './schemas.js';

export type { AdminOrder } from './adminApp.js';

const TIMEOUT_MS = 30_000;

export class AdminClientError extends Error {
  readonly status: number | null;

  constructor(sentence: string, status: number | null, cause?: unknown) {
    super(sentence, { cause });
    this.name = 'AdminClientError';
    this.status = status;
  }
}

export interface AdminClient {
  /** All facts after that place, page after page. */
  factsSince(since: number, meeting: Offer['meeting'] | null): AsyncGenerator<FactsPage>;
  messagesSince(since: number): Promise<readonly NumberedMessage[]>;
  /** For good, at the service: it is the only place where it lay. */
  forgetMessage(id: string): Promise<void>;
  where(): Promise<Where>;
  ordersOf(reference: string): Promise<readonly AdminOrder[]>;
  orders(): Promise<readonly AdminOrder[]>;
  tell(order: OrderId, told: z.input<typeof toldSchema> | FactToTell): Promise<AdminOrder>;
  offers(): Promise<readonly Offer[]>;
  putOffer(offer: Offer): Promise<void>;
  putVoucher(meeting: Offer['meeting'], voucher: Voucher): Promise<void>;
  /** Paid, but not handed over yet, and why. */
  waiting(): Promise<readonly WaitingOrder[]>;
  sign(order: OrderId, sign: Sign): Promise<Release>;
  /** To pass on by hand: of the whole set, or of one picture of it. */
  link(order: OrderId, picture: PublicId | null): Promise<{ readonly address: string; readonly expiresAt: EpochMs }>;
  takeLinkBack(order: OrderId): Promise<void>;
  /** False where one waits or went a moment ago. */
  sendLetter(order: OrderId): Promise<{ readonly isQueued: boolean }>;
  /** Pictures that could not be made are tried once more. */
  makeAgain(): Promise<void>;
  /** Of pictures that were taken down; says what went. */
  removeFinals(pictures: readonly PublicId[]): Promise<readonly RemovedThing[]>;
  /** From the organiser's pages, by their names as finals; says what went. */
  removeShared(names: readonly string[]): Promise<readonly RemovedThing[]>;
  /** For whoever brings finals. */
  readonly plain: AskAdmin;
}

export function adminClient(address: string, word: string): AdminClient {
  const root = address.replace(/\/+$/, '');
  const reach = (path: string, init: { method?: string; body?: string | Uint8Array<ArrayBuffer> } = {}) =>
    fetch(`${root}${path}`, {
      ...init,
      headers: { authorization: `Bearer ${word}`, 'content-type': 'application/json' },
      redirect: 'error',
      signal: AbortSignal.timeout(TIMEOUT_MS),
    }).catch((cause: unknown) => {
      throw new AdminClientError(
        `Expected the order service at ${root} but nothing answered. Start it with tyrewall orders, or say --from with its admin address.`,
        null,
        cause,
      );
    });
  const ask = async <Answer>(path: string, init: { method?: string; body?: unknown } = {}): Promise<Answer> => {
    const answer = await reach(path, {
      method: init.method ?? 'GET',
      ...(init.body === undefined ? {} : { body: JSON.stringify(init.body) }),
    });
    if (answer.ok) return (answer.status === 204 ? undefined : await answer.json()) as Answer;
    const { problem } = (await answer.json().catch(() => ({}))) as { problem?: string };
    throw new AdminClientError(problem ?? `The order service at ${root} answered ${answer.status}.`, answer.status);
  };
  const remove = (path: string, body: unknown) =>
    ask<{ readonly removed: readonly RemovedThing[] }>(path, { method: 'POST', body });
  return {
    async *factsSince(since, meeting) {
      const of = meeting === null ? '' : `&meeting=${meeting}`;
      for (let from = since; ; ) {
        const page = await ask<FactsPage>(`/api/facts?since=${from}${of}`);
        if (page.next === from) return;
        from = page.next;
        yield page;
      }
    },
    messagesSince: (since) => ask(`/api/messages?since=${since}`),
    forgetMessage: (id) => ask(`/api/messages/${encodeURIComponent(id)}`, { method: 'DELETE' }),
    where: () => ask('/api/where'),
    ordersOf: (reference) => ask(`/api/orders?reference=${encodeURIComponent(reference)}`),
    orders: () => ask('/api/orders'),
    tell: (order, told) => ask(`/api/orders/${order}/facts`, { method: 'POST', body: told }),
    offers: () => ask('/api/offers'),
    putOffer: (body) => ask('/api/offers', { method: 'PUT', body }),
    putVoucher: (meeting, body) => ask(`/api/vouchers/${meeting}`, { method: 'PUT', body }),
    waiting: async () => (await ask<{ waiting: readonly WaitingOrder[] }>('/api/handing')).waiting,
    sign: (order, body) => ask(`/api/handing/${order}/sign`, { method: 'POST', body }),
    link: (order, picture) => ask(`/api/handing/${order}/link`, { method: 'POST', body: { picture } }),
    takeLinkBack: (order) => ask(`/api/handing/${order}/revoke`, { method: 'POST' }),
    sendLetter: (order) => ask(`/api/handing/${order}/letter`, { method: 'POST' }),
    makeAgain: () => ask('/api/finals/again', { method: 'POST' }),
    removeFinals: async (pictures) => (await remove('/api/finals/remove', { pictures })).removed,
    removeShared: async (names) => (await remove('/api/shares/remove', { names })).removed,
    plain: (path, init) => reach(path, init),
  };
}
