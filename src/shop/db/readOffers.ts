/**
 * Offers as they were read: one is a few hundred kilobytes, every page wants it, and its text changes a few times a day. What stands in the
 * database is asked each time by the moment it was put, which is another for every text.
 */
import type { Kysely } from 'kysely';
import type { Offer } from '../../core/handover/orders/index.js';
import type { PublicId } from '../../core/handover/types.js';
import type { Tables } from './tables.js';

export interface OfferAt {
  readonly at: string;
  readonly offer: Offer;
}

export class ReadOffers {
  readonly #known: Map<PublicId, OfferAt>;
  readonly #isKept: boolean;

  constructor(known = new Map<PublicId, OfferAt>(), isKept = true) {
    this.#known = known;
    this.#isKept = isKept;
  }

  /** What a transaction reads may never come to stand, so it is not kept. */
  withinTransaction(): ReadOffers {
    return new ReadOffers(this.#known, false);
  }

  async one(db: Kysely<Tables>, meeting: PublicId): Promise<Offer | null> {
    const row = await db.selectFrom('offers').select('at').where('meeting', '=', meeting).executeTakeFirst();
    return row === undefined ? null : this.#read(db, meeting, row.at);
  }

  async all(db: Kysely<Tables>): Promise<readonly Offer[]> {
    const rows = await db.selectFrom('offers').select(['meeting', 'at']).orderBy('at').execute();
    const offers: Offer[] = [];
    for (const { meeting, at } of rows) {
      const offer = await this.#read(db, meeting, at);
      if (offer !== null) offers.push(offer);
    }
    return offers;
  }

  async #read(db: Kysely<Tables>, meeting: PublicId, at: string): Promise<Offer | null> {
    const known = this.#known.get(meeting);
    if (known?.at === at) return known.offer;
    const row = await db.selectFrom('offers').select(['at', 'body']).where('meeting', '=', meeting).executeTakeFirst();
    if (row === undefined) return null;
    const offer = JSON.parse(row.body) as Offer;
    if (this.#isKept) this.#known.set(meeting, { at: row.at, offer });
    return offer;
  }
}
