/** The admin side as the photographer's machine asks it; refusals come as the service's own sentences. */

import type { z } from 'zod';
import type { Offer, OrderId, Voucher } from '../../core/handover/orders/index.js';
import type { NumberedFact, NumberedMessage } from '../db/index.js';
import type { AdminOrder, FactsPage } from './adminApp.js';
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
  factsSince(
    since: number,
    meeting: Offer['meeting'] | null,
  ): AsyncGenerator<{ facts: readonly NumberedFact[]; next: number }>;
  messagesSince(since: number): Promise<readonly NumberedMessage[]>;
  ordersOf(reference: string): Promise<readonly AdminOrder[]>;
  orders(): Promise<readonly AdminOrder[]>;
  tell(order: OrderId, told: z.input<typeof toldSchema>): Promise<AdminOrder>;
  putOffer(offer: Offer): Promise<void>;
  putVoucher(meeting: Offer['meeting'], voucher: Voucher): Promise<void>;
}

export function adminClient(address: string, word: string): AdminClient {
  const root = address.replace(/\/+$/, '');
  const ask = async <Answer>(path: string, init: { method?: string; body?: unknown } = {}): Promise<Answer> => {
    const answer = await fetch(`${root}${path}`, {
      method: init.method ?? 'GET',
      headers: { authorization: `Bearer ${word}`, 'content-type': 'application/json' },
      ...(init.body === undefined ? {} : { body: JSON.stringify(init.body) }),
      redirect: 'error',
      signal: AbortSignal.timeout(TIMEOUT_MS),
    }).catch((cause: unknown) => {
      throw new AdminClientError(
        `Expected the order service at ${root} but nothing answered. Start it with tyrewall orders, or say --from with its admin address.`,
        null,
        cause,
      );
    });
    if (answer.ok) return (answer.status === 204 ? undefined : await answer.json()) as Answer;
    const { problem } = (await answer.json().catch(() => ({}))) as { problem?: string };
    throw new AdminClientError(problem ?? `The order service at ${root} answered ${answer.status}.`, answer.status);
  };
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
    ordersOf: (reference) => ask(`/api/orders?reference=${encodeURIComponent(reference)}`),
    orders: () => ask('/api/orders'),
    tell: (order, told) => ask(`/api/orders/${order}/facts`, { method: 'POST', body: told }),
    putOffer: (body) => ask('/api/offers', { method: 'PUT', body }),
    putVoucher: (meeting, body) => ask(`/api/vouchers/${meeting}`, { method: 'PUT', body }),
  };
}
