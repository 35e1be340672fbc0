/**
 * A basket against the offer as it stands: lines with their pictures, prices and totals, or sentences about what cannot be had. What was
 * taken down or is not in the offer is never sold; the rest of the basket goes on. Rules OR10–OR14.
 */
import type { EpochMs } from '../../units.js';
import type { PublicId } from '../types.js';
import { totalsOf } from './totals.js';
import type { BasketLine, Minor, Offer, OrderLine, PriceList, Product, Totals, Voucher } from './types.js';

/** More of one print than anybody means. */
const MOST_PRINTS = 99;

/** Keys of messages, so that each language says it in its own words. */
export type LineTrouble = 'not-sold' | 'nothing-there' | 'wrong-count' | 'twice';

export interface PricedBasket {
  readonly lines: readonly OrderLine[];
  readonly troubles: readonly { readonly line: BasketLine; readonly is: LineTrouble }[];
  readonly voucher: { readonly code: string; readonly is: 'taken' | 'unknown' | 'used-up' | 'too-late' } | null;
  readonly totals: Totals;
}

export interface BasketAsked {
  readonly lines: readonly BasketLine[];
  readonly voucherCode: string | null;
}

export interface KnownVoucher {
  readonly voucher: Voucher;
  /** Orders it was taken in so far. */
  readonly used: number;
  /** Of a prepaid one, what they took of it. */
  readonly spent?: Minor;
}

export function priceBasket(
  asked: BasketAsked,
  offer: Offer,
  voucherOf: (code: string) => KnownVoucher | null,
  now: EpochMs,
): PricedBasket {
  const lines: OrderLine[] = [];
  const troubles: { line: BasketLine; is: LineTrouble }[] = [];
  const seen = new Set<string>();
  for (const line of asked.lines) {
    const outcome = lineOf(line, offer);
    const key = JSON.stringify([line.product, line.asked]);
    if (typeof outcome === 'string') troubles.push({ line, is: outcome });
    else if (seen.has(key)) troubles.push({ line, is: 'twice' });
    else lines.push(outcome);
    seen.add(key);
  }
  const found = asked.voucherCode === null ? null : voucherOf(asked.voucherCode);
  const said = asked.voucherCode === null ? null : { code: asked.voucherCode, is: voucherStands(found, now) };
  const voucher = said?.is === 'taken' ? found!.voucher : null;
  return { lines, troubles, voucher: said, totals: totalsOf(lines, offer.prices, voucher) };
}

const RANK = { picture: 0, day: 1, weekend: 2 } as const;

/** Files that a day or weekend beside them has already, as large and under the same terms. Rule OR40. */
export function heldInAnother(lines: readonly OrderLine[]): readonly OrderLine[] {
  const edgeOf = ({ longEdgePx }: OrderLine) => longEdgePx ?? Number.POSITIVE_INFINITY;
  const holds = (other: OrderLine, line: OrderLine): boolean =>
    other.asked.kind !== 'print' &&
    line.asked.kind !== 'print' &&
    RANK[other.asked.kind] > RANK[line.asked.kind] &&
    other.licence === line.licence &&
    edgeOf(other) >= edgeOf(line) &&
    line.pictures.every((picture) => other.pictures.includes(picture));
  return lines.filter((line) => lines.some((other) => holds(other, line)));
}

function voucherStands(known: KnownVoucher | null, now: EpochMs): 'taken' | 'unknown' | 'used-up' | 'too-late' {
  if (known === null) return 'unknown';
  const { uses, expiresAt } = known.voucher;
  if (expiresAt !== null && now > expiresAt) return 'too-late';
  const isSpent = known.voucher.kind === 'prepaid' && (known.spent ?? 0) >= known.voucher.worth;
  return isSpent || (uses !== null && known.used >= uses) ? 'used-up' : 'taken';
}

function lineOf(line: BasketLine, offer: Offer): OrderLine | LineTrouble {
  const product = offer.prices.products.find((one) => one.key === line.product);
  if (!product || product.kind !== line.asked.kind) return 'not-sold';
  const most = product.kind === 'print' ? MOST_PRINTS : 1;
  if (!Number.isInteger(line.quantity) || line.quantity < 1 || line.quantity > most) return 'wrong-count';
  const withdrawn = new Set(offer.withdrawn);
  const pictures = picturesOf(line, offer).filter((picture) => !withdrawn.has(picture));
  if (pictures.length === 0) return 'nothing-there';
  return {
    ...line,
    name: product.name,
    unitPrice: unitPriceOf(product, offer.prices),
    taxRate: product.taxRate,
    licence: product.licence,
    longEdgePx: product.longEdgePx ?? null,
    pictures,
  };
}

/** The organiser's money pays for pictures to riders' own use, not for paper and not for a sponsor. */
export const unitPriceOf = (product: Product, { isPaidByOrganiser }: PriceList): Minor =>
  isPaidByOrganiser && product.kind !== 'print' && product.licence === 'personal' ? (0 as Minor) : product.price;

function picturesOf({ asked }: BasketLine, { riders, pictures }: Offer): readonly PublicId[] {
  if (asked.kind === 'picture' || asked.kind === 'print')
    return pictures.some(({ id }) => id === asked.picture) ? [asked.picture] : [];
  const own = riders.find(({ publicId }) => publicId === asked.rider)?.pictures ?? [];
  if (asked.kind === 'weekend') return own;
  const ofDay = new Set(pictures.filter(({ day }) => day === asked.day).map(({ id }) => id));
  return own.filter((picture) => ofDay.has(picture));
}
