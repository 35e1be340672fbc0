/**
 * Orders: what is offered, asked for, paid and handed over. Money is whole minor units of one currency; pictures and riders go by their
 * public ids. An order is a series of facts, each with a key of its own; what state it is in is folded from them (decision 010).
 */
import type { Livery } from '../../arrange/types.js';
import type { Branded, EpochMs } from '../../units.js';
import type { PublicId } from '../types.js';

declare const minor: unique symbol;
declare const orderId: unique symbol;
declare const factKey: unique symbol;

/** Whole minor units of the offer's currency: pence, cents; in a currency without them, the unit itself. */
export type Minor = Branded<number, typeof minor>;
/** ISO 4217, three capital letters. */
export type CurrencyCode = string;
/** 128 random bits as 32 hex digits; says nothing of how many orders there are. */
export type OrderId = Branded<string, typeof orderId>;
/** What is told twice under one key is one fact: of a form its own word, of a webhook its id. */
export type FactKey = Branded<string, typeof factKey>;
/** Hundredths of a percent: 2,000 is 20 %. */
export type BasisPoints = number;

/** What a price is for. A weekend is every day of the meeting of one rider. */
export type ProductKind = 'picture' | 'day' | 'weekend' | 'print';

/** What one may withdraw from by itself: law treats files and goods differently. */
export type OrderPart = 'downloads' | 'prints';

/** Under which terms a picture may be used; the texts are in `law/`. */
export type LicenceKind = 'personal' | 'press' | 'sponsor';

export interface Product {
  /** Letters, digits and dashes; stays the same when the price changes. */
  readonly key: string;
  readonly kind: ProductKind;
  /** As the buyer reads it. */
  readonly name: string;
  readonly price: Minor;
  readonly taxRate: BasisPoints;
  readonly licence: LicenceKind;
  /** Long edge of the files handed over; absent for full size. */
  readonly longEdgePx?: number;
}

export interface PriceList {
  readonly currency: CurrencyCode;
  /** Whether prices are with tax in them, as buyers who are no business read them. */
  readonly includesTax: boolean;
  readonly products: readonly Product[];
  /** The organiser has paid: riders have pictures and days for nothing. Prints still cost what they cost. */
  readonly isPaidByOrganiser: boolean;
}

export type Voucher =
  | ({ readonly code: string; readonly kind: 'percent'; readonly off: BasisPoints } & VoucherLimits)
  | ({ readonly code: string; readonly kind: 'amount'; readonly off: Minor } & VoucherLimits)
  /** Of who paid before there was a picture: takes nothing off, but counts as money, as much of it as the order needs. */
  | ({
      readonly code: string;
      readonly kind: 'prepaid';
      readonly worth: Minor;
      readonly reference: string;
    } & VoucherLimits);
interface VoucherLimits {
  /** Of orders; null: as often as one likes. */
  readonly uses: number | null;
  readonly expiresAt: EpochMs | null;
}

export interface OfferPicture {
  readonly id: PublicId;
  /** `YYYY-MM-DD` in the meeting's zone; null where no time is known. */
  readonly day: string | null;
}

export interface OfferRider {
  readonly publicId: PublicId;
  /** In words, as the gallery says it. Never a name. */
  readonly livery: string;
  /** The same by parts, to be said in the reader's language; absent in offers of before. */
  readonly look?: Livery;
  /** To be found by; it may be a guess, so it is shown nowhere. */
  readonly number?: string;
  readonly pictures: readonly PublicId[];
  /** Whether any picture came to this rider by a guess that nobody confirmed: then a whole set waits for two signs. */
  readonly isJoinedByGuess: boolean;
}

/** All the service knows of a meeting. Laid beside an edition, never in it. */
export interface Offer {
  readonly v: 1;
  /** Public id of the meeting; the same over its editions. */
  readonly meeting: PublicId;
  readonly edition: string;
  readonly title: string;
  readonly firstDay: string;
  readonly lastDay: string;
  /** Where the gallery is to be found; null while it is nowhere. */
  readonly gallery: string | null;
  /** Of the gallery's first pages, the others lying in folders beside them; absent in offers of before. */
  readonly language?: string;
  readonly seller: {
    readonly name: string;
    readonly contact: string | null;
    /** As invoices must show them: address, tax number. */
    readonly lines: readonly string[];
  };
  readonly prices: PriceList;
  readonly pictures: readonly OfferPicture[];
  readonly riders: readonly OfferRider[];
  /** In order of time, with the riders each shows; absent where the gallery knew of none. */
  readonly sessions?: readonly { readonly name: string; readonly riders: readonly PublicId[] }[];
  /** Who is named beside a picture, where that is not the seller. */
  readonly credit?: string;
  /** The photographer's own terms of a licence, where they wrote some; else the templates of `law/`. */
  readonly terms?: Readonly<Partial<Record<LicenceKind, string>>>;
  /** Taken down: never sold, never handed over again, also from orders paid before. */
  readonly withdrawn: readonly PublicId[];
}

/** What a buyer points at; `day` as in the offer's pictures. */
export type Asked =
  | { readonly kind: 'picture'; readonly picture: PublicId }
  | { readonly kind: 'print'; readonly picture: PublicId }
  | { readonly kind: 'day'; readonly rider: PublicId; readonly day: string }
  | { readonly kind: 'weekend'; readonly rider: PublicId };

export interface BasketLine {
  readonly product: string;
  readonly asked: Asked;
  /** More than one of prints only. */
  readonly quantity: number;
}

/** A line as it was ordered: a snapshot, never reckoned again. */
export interface OrderLine extends BasketLine {
  readonly name: string;
  readonly unitPrice: Minor;
  readonly taxRate: BasisPoints;
  readonly licence: LicenceKind;
  readonly longEdgePx: number | null;
  readonly pictures: readonly PublicId[];
}

/** Of one rate. `net + tax = gross`, always. */
export interface TaxPart {
  readonly rate: BasisPoints;
  readonly net: Minor;
  readonly tax: Minor;
  readonly gross: Minor;
}

export interface Totals {
  readonly currency: CurrencyCode;
  /** Of the lines, as priced. */
  readonly asPriced: Minor;
  readonly off: Minor;
  /** What the buyer owes, tax and all. */
  readonly toPay: Minor;
  /** By rate, lowest first; their gross adds up to `toPay`. */
  readonly taxes: readonly TaxPart[];
}

export type WayToPay = 'provider' | 'transfer' | 'cash' | 'terminal' | 'nothing-to-pay' | 'prepaid';

export interface Contact {
  readonly name: string;
  readonly mail: string;
  /** For prints. */
  readonly address: string | null;
}

/** Two ticks, each with the moment and the words that stood beside it. */
export interface DownloadConsent {
  readonly immediateSupply: { readonly at: EpochMs; readonly words: string };
  readonly lossOfCancellation: { readonly at: EpochMs; readonly words: string };
}

export type Fact =
  | {
      readonly kind: 'placed';
      readonly meeting: PublicId;
      readonly edition: string;
      readonly lines: readonly OrderLine[];
      readonly totals: Totals;
      readonly voucher: string | null;
      readonly way: WayToPay;
      readonly contact: Contact;
      readonly consent: DownloadConsent | null;
      /** BCP 47, of the pages it was placed on. */
      readonly language: string;
    }
  | {
      readonly kind: 'paid';
      readonly amount: Minor;
      readonly way: WayToPay;
      /** Of the transfer, the terminal's slip or the provider. */
      readonly reference: string;
    }
  | {
      readonly kind: 'refunded';
      readonly amount: Minor;
      readonly why: 'wrong-rider' | 'taken-down' | 'cancelled' | 'kindness';
      readonly reference: string;
    }
  | { readonly kind: 'cancelled'; readonly by: 'buyer' | 'photographer' | 'never-paid' }
  /** The buyer withdrew from the contract; `worth` is what these parts came to, whether it was paid or not. */
  | { readonly kind: 'contract-withdrawn'; readonly parts: readonly OrderPart[]; readonly worth: Minor }
  /** Pictures the order gives no longer: taken down, or of another rider. */
  | { readonly kind: 'withdrawn'; readonly pictures: readonly PublicId[]; readonly why: 'taken-down' | 'wrong-rider' }
  /** One of the two signs a set joined by guess waits for; of these pictures and no others. */
  | {
      readonly kind: 'signed';
      readonly by: string;
      readonly pictures: readonly PublicId[];
      /** The same person once more, with every picture shown: said as such, never as another person. */
      readonly isSecondLook?: boolean;
    }
  | { readonly kind: 'link-made'; readonly generation: number; readonly expiresAt: EpochMs }
  | { readonly kind: 'link-revoked'; readonly generation: number }
  | {
      readonly kind: 'handed-over';
      /** `page`: the link was opened. */
      readonly what: 'page' | 'picture' | 'zip' | 'print' | 'mail';
      readonly picture: PublicId | null;
      readonly bytes: number;
    }
  /** After retention or erasure: the money stays for the books, the person goes. */
  | { readonly kind: 'contact-removed' };

export type Who = 'buyer' | 'photographer' | 'provider' | 'service';

export interface StoredFact {
  readonly order: OrderId;
  readonly key: FactKey;
  readonly at: EpochMs;
  readonly by: Who;
  readonly fact: Fact;
}

/** The same whatever order the facts were told in. */
export interface OrderState {
  readonly id: OrderId;
  /** Absent where something was told of an order before the order itself. */
  readonly placed: (Extract<Fact, { kind: 'placed' }> & { readonly at: EpochMs }) | null;
  readonly paid: Minor;
  readonly refunded: Minor;
  /** What is still to be paid; never less than nothing. */
  readonly owed: Minor;
  readonly standing: 'unknown' | 'waiting-for-money' | 'paid' | 'refunded' | 'cancelled';
  /** Of what the buyer withdrew from the contract, and since when. */
  readonly contractWithdrawn: { readonly at: EpochMs; readonly parts: readonly OrderPart[] } | null;
  /** Came, is not owed any more, and has not gone back yet. */
  readonly toGiveBack: Minor;
  /** What the order gives: its lines' pictures but those withdrawn. */
  readonly pictures: readonly PublicId[];
  readonly signs: readonly {
    readonly by: string;
    readonly pictures: readonly PublicId[];
    readonly isSecondLook: boolean;
  }[];
  /** The newest link, with whether it was revoked; null before one was made. */
  readonly link: { readonly generation: number; readonly expiresAt: EpochMs; readonly isRevoked: boolean } | null;
  readonly handedOver: readonly { readonly at: EpochMs; readonly what: string; readonly picture: PublicId | null }[];
}

export type PaperKind = 'invoice' | 'credit-note';

/** All a paper shows but its number: a snapshot, drawn again whenever it is asked for. */
export interface PaperBody {
  readonly title: string;
  readonly seller: Offer['seller'];
  /** Null after the contact was removed. */
  readonly buyer: Pick<Contact, 'name' | 'address'> | null;
  /** Of an invoice the order's, of a credit note none. */
  readonly lines: readonly OrderLine[];
  readonly totals: Totals;
  readonly includesTax: boolean;
  readonly way: WayToPay;
  readonly reference: string;
  /** Where it was paid in parts, all of them; `way` is of the last. */
  readonly payments?: readonly { readonly amount: Minor; readonly way: WayToPay; readonly reference: string }[];
  /** Which invoice a credit note is of; null where it was refunded before it was paid. */
  readonly of: { readonly series: string; readonly number: number } | null;
  readonly language: string;
}

/** An invoice (which is a receipt, too: the money is there) or a credit note. Numbers of a series have no gaps. */
export interface Paper {
  readonly series: string;
  readonly number: number;
  readonly kind: PaperKind;
  readonly order: OrderId;
  /** Of the fact it was made for. */
  readonly key: FactKey;
  readonly at: EpochMs;
  readonly body: PaperBody;
}

/** Which paper stands for a fact: all the books need of it. */
export interface PaperNumber extends Pick<Paper, 'order' | 'key' | 'kind'> {
  /** As printed on it. */
  readonly number: string;
}
