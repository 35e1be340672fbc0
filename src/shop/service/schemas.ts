/** What comes in on the admin side, checked once at the edge. */
import { z } from 'zod';
import { type Fact, minorDigits, minorOf, type Offer, type Voucher } from '../../core/handover/orders/index.js';
import type { ColourName } from '../../core/measure/types.js';
import { epochMsOf } from '../../core/units.js';
import { wordsOf } from '../../gallery/words/index.js';

const id = z.string().regex(/^[0-9a-f]{32}$/, '32 hex digits');
const day = z.iso.date();
const amount = z
  .int()
  .min(0)
  .max(100_000_000_000)
  .transform((value) => minorOf(value, 'amount'));
const moment = z.int().min(0).transform(epochMsOf);
const key = z.string().regex(/^[a-z0-9-]{1,24}$/, 'at most 24 small letters, digits and dashes');
const rate = z.int().min(0).max(10_000);
const text = (most: number) => z.string().max(most);
const currency = z.string().refine((code) => {
  try {
    return minorDigits(code) >= 0;
  } catch {
    return false;
  }
}, 'a currency of ISO 4217, as EUR');

const product = z.object({
  key,
  kind: z.enum(['picture', 'day', 'weekend', 'print']),
  name: z.string().min(1).max(120),
  price: amount,
  taxRate: rate,
  licence: z.enum(['personal', 'press', 'sponsor']),
  longEdgePx: z.int().min(64).max(100_000).optional(),
});

const seller = z.object({ name: text(200), contact: text(200).nullable(), lines: z.array(text(200)).max(12) });
const prices = z.object({
  currency,
  includesTax: z.boolean(),
  isPaidByOrganiser: z.boolean(),
  products: z
    .array(product)
    .max(60)
    .refine((all) => new Set(all.map((one) => one.key)).size === all.length, 'keys that differ from one another'),
});

/** What a photographer writes into `prices.json` of a meeting; without a contact the meeting's stands. */
export const priceListSchema = z
  .object({ seller: seller.partial({ contact: true }), prices })
  .transform(
    (said) =>
      said as { seller: Omit<Offer['seller'], 'contact'> & { contact?: string | null }; prices: Offer['prices'] },
  );

const colour = z.enum(Object.keys(wordsOf.en.colours) as ColourName[]);
const look = z.object({
  bike: z.array(colour).max(2),
  isMulticoloured: z.boolean(),
  leathers: colour.nullable(),
  helmet: colour.nullable(),
});

export const offerSchema = z
  .object({
    v: z.literal(1),
    meeting: id,
    edition: text(100),
    title: z.string().min(1).max(200),
    firstDay: day,
    lastDay: day,
    gallery: z.url({ protocol: /^https?$/ }).nullable(),
    language: text(10).optional(),
    seller,
    prices,
    pictures: z.array(z.object({ id, day: day.nullable() })).max(200_000),
    riders: z
      .array(
        z.object({
          publicId: id,
          livery: text(300),
          look: look.optional(),
          number: text(20).optional(),
          pictures: z.array(id).max(20_000),
          isJoinedByGuess: z.boolean(),
        }),
      )
      .max(20_000),
    sessions: z
      .array(z.object({ name: text(100), riders: z.array(id).max(20_000) }))
      .max(1000)
      .optional(),
    credit: text(200).optional(),
    terms: z
      .object({ personal: text(4000), press: text(4000), sponsor: text(4000) })
      .partial()
      .optional(),
    withdrawn: z.array(id).max(200_000),
  })
  .transform((offer) => offer as Offer);

const code = z.string().regex(/^[A-Z0-9-]{1,32}$/, 'capital letters, digits and dashes');
const limits = { code, uses: z.int().positive().nullable(), expiresAt: moment.nullable() };
export const voucherSchema = z
  .discriminatedUnion('kind', [
    z.object({ kind: z.literal('percent'), off: rate, ...limits }),
    z.object({ kind: z.literal('amount'), off: amount, ...limits }),
    z.object({ kind: z.literal('prepaid'), worth: amount, reference: text(200), ...limits }),
  ])
  .transform((voucher): Voucher => voucher);

/** What the photographer may say of an order; the rest is the service's own to say. */
export const factSchema = z
  .discriminatedUnion('kind', [
    z.object({
      kind: z.literal('paid'),
      amount: amount.refine((value) => value > 0, 'more than nothing'),
      way: z.enum(['transfer', 'cash', 'terminal']),
      reference: text(200),
    }),
    z.object({
      kind: z.literal('refunded'),
      amount: amount.refine((value) => value > 0, 'more than nothing'),
      why: z.enum(['wrong-rider', 'taken-down', 'cancelled', 'kindness']),
      reference: text(200),
    }),
    z.object({ kind: z.literal('cancelled'), by: z.enum(['photographer', 'never-paid']) }),
    z.object({
      kind: z.literal('withdrawn'),
      pictures: z.array(id).min(1).max(20_000),
      why: z.enum(['taken-down', 'wrong-rider']),
    }),
    // Files are handed over by the service, which says so itself; paper by hand. Signs have an address of their own, which looks at them.
    z.object({ kind: z.literal('handed-over'), what: z.literal('print'), picture: id, bytes: z.literal(0) }),
    z.object({ kind: z.literal('link-revoked'), generation: z.int().min(0) }),
    z.object({ kind: z.literal('contact-removed') }),
  ])
  .transform((fact): Fact => fact);

/** Keys of what is told by hand cannot be taken for a provider's or the service's own. */
export const toldSchema = z.object({
  key: z.string().regex(/^[A-Za-z0-9-]{8,64}$/, '8 to 64 letters, digits and dashes'),
  fact: factSchema,
});
