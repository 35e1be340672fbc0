/** What a meeting took, from the facts of its orders. Money is whole minor units; every table's rows add up to the facts. */

import type {
  CurrencyCode,
  FactKey,
  Minor,
  OrderId,
  PaperNumber,
  StoredFact,
  TaxPart,
} from '../../handover/orders/types.js';
import type { CommissionAgreed } from '../../handover/organiser/types.js';
import type { PublicId } from '../../handover/types.js';
import type { SpotId } from '../../ids.js';
import type { EpochMs } from '../../units.js';

/** Where and of whom a picture is; what is not known is null. */
export interface PicturePlace {
  readonly spot: SpotId | null;
  /** Index in the arrangement; its name is the caller's to give. */
  readonly session: string | null;
  /** As the photographer knows riders: a code, never a name. */
  readonly rider: string | null;
}

/** Money that came or went. */
export interface MoneyFact {
  readonly order: OrderId;
  readonly key: FactKey;
  readonly at: EpochMs;
  readonly kind: 'paid' | 'refunded';
  /** Less than nothing where it went. */
  readonly amount: Minor;
  /** By which way it came, or why it went. */
  readonly how: string;
  readonly reference: string;
  /** Number of the invoice it was paid for, or of the credit note it went back by; null while none was made or fetched. */
  readonly paper: string | null;
  /** Its tax, signed as the amount; what was paid over the order is in none. */
  readonly taxes: readonly TaxPart[];
  readonly overpaid: Minor;
  /** Names of what it was for. */
  readonly products: readonly string[];
}

export interface TakingsRow {
  /** Null: not known. */
  readonly of: string | null;
  /** What came, less what went. */
  readonly gross: Minor;
  readonly refunded: Minor;
  /** Orders with money of it. */
  readonly orders: number;
}

export interface SpotTakings extends TakingsRow {
  /** Of track time stood there; null: nobody knows. */
  readonly minutes: number | null;
  /** Minor units; null where no whole minute was stood. */
  readonly aMinute: number | null;
}

export interface Commission {
  readonly agreed: CommissionAgreed;
  readonly amount: Minor;
}

/** Of one currency. */
export interface Takings {
  readonly currency: CurrencyCode;
  /** In order of time. */
  readonly facts: readonly MoneyFact[];
  readonly orders: number;
  readonly paid: Minor;
  /** As a sum of money that went: nothing or more. */
  readonly refunded: Minor;
  /** `paid − refunded`. */
  readonly gross: Minor;
  readonly taxes: readonly TaxPart[];
  readonly tax: Minor;
  readonly net: Minor;
  readonly commission: Commission | null;
  /** Net of tax and of commission. */
  readonly left: Minor;
  readonly byProduct: readonly TakingsRow[];
  readonly bySpot: readonly SpotTakings[];
  readonly bySession: readonly TakingsRow[];
  readonly byRider: readonly TakingsRow[];
  readonly byWay: readonly TakingsRow[];
  /** By the day the money came or went, `YYYY-MM-DD` in UTC. */
  readonly byDay: readonly TakingsRow[];
}

export interface TakingsFound {
  /** One for each currency, by its code. */
  readonly takings: readonly Takings[];
  /** Money told of orders that were never told themselves: in no table. In sentences. */
  readonly left: readonly string[];
}

export interface TakingsInput {
  readonly facts: readonly StoredFact[];
  readonly papers: readonly PaperNumber[];
  /** Only orders of this meeting; absent: of all. */
  readonly meeting?: PublicId;
  readonly places: ReadonlyMap<PublicId, PicturePlace>;
  /** Riders by their public ids, for whole days. */
  readonly riders: ReadonlyMap<PublicId, string>;
  /** Minutes stood, by spot. */
  readonly minutes: ReadonlyMap<SpotId, number>;
  readonly commission: CommissionAgreed | null;
}

/** A cell of a file: amounts and texts are told apart, for a text may look like a formula. */
export type Cell = { readonly text: string } | { readonly number: string };
