/**
 * A provider reached by JSON over HTTPS, or a small bridge to one. It is asked to begin a payment by `POST start` with the order, the
 * amount and where the buyer comes back to, and answers with `{"address": …}`; its webhooks are `{type, timestamp, data}` as the Standard
 * Webhooks specification advises, of type `payment.succeeded` or `payment.refunded`.
 */
import { z } from 'zod';
import { minorOf, type OrderId } from '../../core/handover/orders/index.js';
import { ShopError } from '../shopError.js';
import type { PaymentAsked, PaymentProvider, ProviderEvent } from './types.js';

const START_TIMEOUT_MS = 10_000;
const started = z.object({ address: z.url({ protocol: /^https?$/ }).max(2000) });
const money = z.object({
  order: z.string().regex(/^[0-9a-f]{32}$/),
  amount: z.int().positive().max(100_000_000_000),
  currency: z.string().regex(/^[A-Z]{3}$/),
  reference: z.string().min(1).max(200),
});
const KINDS = { 'payment.succeeded': 'paid', 'payment.refunded': 'refunded' } as const;

export interface JsonProviderSettings {
  readonly key: string;
  readonly name: string;
  readonly start: string;
  /** Where buyers are sent, where that is not where payments are begun. */
  readonly origin?: string | undefined;
  readonly bearer: string;
}

export function jsonProvider(settings: JsonProviderSettings, webhookKeys: readonly Buffer[]): PaymentProvider {
  const { key, name } = settings;
  const origin = new URL(settings.origin ?? settings.start).origin;
  return { key, name, origin, webhookKeys, start: (asked) => start(settings, origin, asked), read };
}

async function start(
  { name, start: url, bearer }: JsonProviderSettings,
  origin: string,
  asked: PaymentAsked,
): Promise<string> {
  const headers = {
    'content-type': 'application/json',
    authorization: `Bearer ${bearer}`,
    'idempotency-key': asked.key,
  };
  const refuse = (came: string, cause?: unknown) =>
    new ShopError(502, `Expected ${name} to begin a payment, but ${came}. Try again, or pay another way.`, cause);
  const answer = await fetch(url, {
    method: 'POST',
    headers,
    body: JSON.stringify(asked),
    redirect: 'error',
    signal: AbortSignal.timeout(START_TIMEOUT_MS),
  }).catch((cause: unknown) => {
    throw refuse('it could not be reached', cause);
  });
  const body = started.safeParse(await answer.json().catch(() => null));
  if (!answer.ok || !body.success) throw refuse(`its answer ${answer.status} named no address`);
  if (new URL(body.data.address).origin !== origin) throw refuse('it named an address that is not its own');
  return body.data.address;
}

function read(body: unknown): ProviderEvent {
  const { type } = z.object({ type: z.string() }).parse(body);
  if (!Object.hasOwn(KINDS, type)) return { kind: 'nothing' };
  const { data } = z.object({ data: money }).parse(body);
  const amount = minorOf(data.amount, 'data.amount');
  return { kind: KINDS[type as keyof typeof KINDS], ...data, order: data.order as OrderId, amount };
}
