/** The order store over either database. What is read and written is the same; only how it is opened differs. */
import type { Kysely, Selectable, Transaction } from 'kysely';
import type {
  Fact,
  FactKey,
  KnownVoucher,
  Minor,
  Offer,
  OrderId,
  StoredFact,
  Voucher,
  Who,
} from '../../core/handover/orders/index.js';
import type { Paper, PaperBody, PaperKind } from '../../core/handover/orders/types.js';
import type { PublicId } from '../../core/handover/types.js';
import { type EpochMs, epochMsOf } from '../../core/units.js';
import { ReadOffers } from './readOffers.js';
import { SEQUENCE, type Tables } from './tables.js';
import type {
  FactOf,
  Mail,
  Message,
  NumberedFact,
  NumberedMessage,
  OrderReads,
  OrderStore,
  OrderWrites,
} from './types.js';

export function storeOver(db: Kysely<Tables>, engine: OrderStore['engine']): OrderStore {
  const offers = new ReadOffers();
  return Object.assign(new Reads(db, offers), {
    engine,
    write: <Result>(work: (writes: OrderWrites) => Promise<Result>) =>
      db.transaction().execute(async (transaction) => {
        await lockWriters(transaction);
        return work(new Writes(transaction, offers.withinTransaction()));
      }),
    close: () => db.destroy(),
  });
}

/** All other writers wait here until this transaction ends. */
async function lockWriters(db: Transaction<Tables>): Promise<void> {
  await db
    .updateTable('series')
    .set((say) => ({ last: say.ref('last') }))
    .where('name', '=', SEQUENCE)
    .execute();
}

class Reads implements OrderReads {
  readonly #db: Kysely<Tables>;
  readonly #offers: ReadOffers;

  constructor(db: Kysely<Tables>, offers: ReadOffers) {
    this.#db = db;
    this.#offers = offers;
  }

  async factsOf(order: OrderId): Promise<readonly NumberedFact[]> {
    const rows = this.#db.selectFrom('facts').selectAll().where('order_id', '=', order).orderBy('seq');
    return (await rows.execute()).map(factOf);
  }

  async factByKey(key: FactKey): Promise<NumberedFact | null> {
    const row = await this.#db.selectFrom('facts').selectAll().where('fact_key', '=', key).executeTakeFirst();
    return row ? factOf(row) : null;
  }

  async factsSince(seq: number, most: number): Promise<readonly NumberedFact[]> {
    const rows = this.#db.selectFrom('facts').selectAll().where('seq', '>', seq).orderBy('seq').limit(most);
    return (await rows.execute()).map(factOf);
  }

  async orders(): Promise<readonly OrderId[]> {
    const rows = this.#db.selectFrom('facts').select('order_id').where('kind', '=', 'placed').orderBy('seq');
    return (await rows.execute()).map((row) => row.order_id as OrderId);
  }

  async papersOf(order: OrderId): Promise<readonly Paper[]> {
    const rows = this.#db.selectFrom('papers').selectAll().where('order_id', '=', order);
    return (await rows.orderBy('series').orderBy('number').execute()).map(paperOf);
  }

  async papersSince(series: string, number: number, most: number): Promise<readonly Paper[]> {
    const rows = this.#db.selectFrom('papers').selectAll().where('series', '=', series).where('number', '>', number);
    return (await rows.orderBy('number').limit(most).execute()).map(paperOf);
  }

  offer(meeting: PublicId): Promise<Offer | null> {
    return this.#offers.one(this.#db, meeting);
  }

  offers(): Promise<readonly Offer[]> {
    return this.#offers.all(this.#db);
  }

  async voucher(meeting: PublicId, code: string): Promise<KnownVoucher | null> {
    return (await this.#vouchers(meeting, code))[0] ?? null;
  }

  vouchers(meeting: PublicId): Promise<readonly KnownVoucher[]> {
    return this.#vouchers(meeting, null);
  }

  async #vouchers(meeting: PublicId, code: string | null): Promise<readonly KnownVoucher[]> {
    let asked = this.#db
      .selectFrom('vouchers')
      .leftJoin('voucher_uses', (on) =>
        on.onRef('voucher_uses.meeting', '=', 'vouchers.meeting').onRef('voucher_uses.code', '=', 'vouchers.code'),
      )
      .where('vouchers.meeting', '=', meeting);
    if (code !== null) asked = asked.where('vouchers.code', '=', code);
    const rows = await asked
      .select(['vouchers.code', 'vouchers.body', (say) => say.fn.count('voucher_uses.order_id').as('used')])
      .groupBy(['vouchers.code', 'vouchers.body'])
      .orderBy('vouchers.code')
      .execute();
    return Promise.all(
      rows.map(async (row) => {
        const known = { voucher: JSON.parse(row.body) as Voucher, used: Number(row.used) };
        return known.voucher.kind === 'prepaid' ? { ...known, spent: await this.#spentOf(meeting, row.code) } : known;
      }),
    );
  }

  async #spentOf(meeting: PublicId, code: string): Promise<Minor> {
    const rows = await this.#db
      .selectFrom('voucher_uses')
      .innerJoin('facts', 'facts.order_id', 'voucher_uses.order_id')
      .select('facts.body')
      .where('voucher_uses.meeting', '=', meeting)
      .where('voucher_uses.code', '=', code)
      .where('facts.kind', '=', 'paid')
      .execute();
    const paid = rows.map(({ body }) => JSON.parse(body) as FactOf<'paid'>).filter(({ way }) => way === 'prepaid');
    return paid.reduce((sum, { amount }) => sum + amount, 0) as Minor;
  }

  async messagesSince(seq: number, most: number): Promise<readonly NumberedMessage[]> {
    const rows = this.#db.selectFrom('messages').selectAll().where('seq', '>', seq).orderBy('seq').limit(most);
    return (await rows.execute()).map((row) => ({
      seq: row.seq,
      id: row.id,
      meeting: row.meeting,
      kind: row.kind as Message['kind'],
      at: instantOf(row.at),
      words: JSON.parse(row.body) as Message['words'],
    }));
  }

  async mailsDue(now: EpochMs, most: number): Promise<readonly Mail[]> {
    const rows = this.#db.selectFrom('mails').selectAll().where('next_at', '<=', textOf(now));
    return (await rows.orderBy('next_at').limit(most).execute()).map(mailOf);
  }

  async mailsOf(order: OrderId): Promise<readonly Mail[]> {
    const rows = this.#db.selectFrom('mails').selectAll().where('order_id', '=', order).orderBy('id');
    return (await rows.execute()).map(mailOf);
  }

  async kept(name: string): Promise<string | null> {
    const row = await this.#db.selectFrom('kept').select('value').where('name', '=', name).executeTakeFirst();
    return row?.value ?? null;
  }
}

class Writes extends Reads implements OrderWrites {
  readonly #db: Transaction<Tables>;

  constructor(db: Transaction<Tables>, offers: ReadOffers) {
    super(db, offers);
    this.#db = db;
  }

  async addFact(fact: StoredFact): Promise<{ readonly isNew: boolean; readonly fact: NumberedFact }> {
    const known = await this.factByKey(fact.key);
    if (known) return { isNew: false, fact: known };
    const seq = await this.#next(SEQUENCE);
    const { order, key, at, by } = fact;
    const body = JSON.stringify(fact.fact);
    const row = { seq, order_id: order, fact_key: key, kind: fact.fact.kind, at: textOf(at), by, body };
    await this.#db.insertInto('facts').values(row).execute();
    return { isNew: true, fact: { ...fact, seq } };
  }

  async #next(name: string): Promise<number> {
    const { last } = await this.#db
      .insertInto('series')
      .values({ name, last: 1 })
      .onConflict((say) => say.column('name').doUpdateSet((row) => ({ last: row('series.last', '+', 1) })))
      .returning('last')
      .executeTakeFirstOrThrow();
    return last;
  }

  async addPaper(
    series: string,
    kind: PaperKind,
    { order, key, at }: Pick<StoredFact, 'order' | 'key' | 'at'>,
    body: PaperBody,
  ): Promise<Paper> {
    const known = await this.#db.selectFrom('papers').selectAll().where('fact_key', '=', key).executeTakeFirst();
    if (known) return paperOf(known);
    const number = await this.#next(`papers ${series}`);
    const row = { series, number, kind, order_id: order, fact_key: key, at: textOf(at), body: JSON.stringify(body) };
    await this.#db.insertInto('papers').values(row).execute();
    return paperOf(row);
  }

  async putOffer(offer: Offer, at: EpochMs): Promise<void> {
    const { meeting } = offer;
    const before = await this.#db.selectFrom('offers').select('at').where('meeting', '=', meeting).executeTakeFirst();
    // Each text has a moment of its own, also where a clock stands or goes back: by it readers know it.
    const later = before === undefined ? at : epochMsOf(Math.max(at, instantOf(before.at) + 1));
    const row = { meeting, at: textOf(later), body: JSON.stringify(offer) };
    await this.#db
      .insertInto('offers')
      .values(row)
      .onConflict((say) => say.column('meeting').doUpdateSet({ at: row.at, body: row.body }))
      .execute();
  }

  async putVoucher(meeting: PublicId, voucher: Voucher): Promise<void> {
    const body = JSON.stringify(voucher);
    await this.#db
      .insertInto('vouchers')
      .values({ meeting, code: voucher.code, body })
      .onConflict((say) => say.columns(['meeting', 'code']).doUpdateSet({ body }))
      .execute();
  }

  async takeVoucher(meeting: PublicId, code: string, order: OrderId): Promise<void> {
    await this.#db
      .insertInto('voucher_uses')
      .values({ order_id: order, meeting, code })
      .onConflict((say) => say.column('order_id').doNothing())
      .execute();
  }

  async giveVoucherBack(order: OrderId): Promise<void> {
    await this.#db.deleteFrom('voucher_uses').where('order_id', '=', order).execute();
  }

  async addWebhook(id: string, at: EpochMs): Promise<boolean> {
    const { numInsertedOrUpdatedRows } = await this.#db
      .insertInto('webhooks')
      .values({ id, at: textOf(at) })
      .onConflict((say) => say.column('id').doNothing())
      .executeTakeFirst();
    return numInsertedOrUpdatedRows === 1n;
  }

  async forgetWebhooks(before: EpochMs): Promise<number> {
    const { numDeletedRows } = await this.#db
      .deleteFrom('webhooks')
      .where('at', '<', textOf(before))
      .executeTakeFirst();
    return Number(numDeletedRows);
  }

  async addMessage({ id, meeting, kind, at, words }: Message): Promise<boolean> {
    const known = await this.#db.selectFrom('messages').select('id').where('id', '=', id).executeTakeFirst();
    if (known) return false;
    const seq = await this.#next(SEQUENCE);
    const row = { seq, id, meeting, kind, at: textOf(at), body: JSON.stringify(words) };
    await this.#db.insertInto('messages').values(row).execute();
    return true;
  }

  async forgetMessage(id: string): Promise<void> {
    await this.#db.deleteFrom('messages').where('id', '=', id).execute();
  }

  async putMail(mail: Mail): Promise<void> {
    const { id, order, body, tries, nextAt, outcome, said } = mail;
    const row = { order_id: order, body, tries, next_at: nextAt === null ? null : textOf(nextAt), outcome, said };
    await this.#db
      .insertInto('mails')
      .values({ id, ...row })
      .onConflict((say) => say.column('id').doUpdateSet(row))
      .execute();
  }

  async removeContact(order: OrderId, key: FactKey, at: EpochMs): Promise<void> {
    for (const { seq, fact } of await this.factsOf(order))
      if (fact.kind === 'placed') {
        const body = JSON.stringify({ ...fact, contact: { name: '', mail: '', address: null } } satisfies Fact);
        await this.#db.updateTable('facts').set({ body }).where('seq', '=', seq).execute();
      }
    for (const { series, number, body } of await this.papersOf(order))
      await this.#db
        .updateTable('papers')
        .set({ body: JSON.stringify({ ...body, buyer: null } satisfies PaperBody) })
        .where('series', '=', series)
        .where('number', '=', number)
        .execute();
    await this.#db.deleteFrom('mails').where('order_id', '=', order).execute();
    await this.addFact({ order, key, at, by: 'service', fact: { kind: 'contact-removed' } });
  }

  async keep(name: string, value: string): Promise<void> {
    await this.#db
      .insertInto('kept')
      .values({ name, value })
      .onConflict((say) => say.column('name').doUpdateSet({ value }))
      .execute();
  }

  async forget(name: string): Promise<void> {
    await this.#db.deleteFrom('kept').where('name', '=', name).execute();
  }
}

const textOf = (at: EpochMs): string => new Date(at).toISOString();
const instantOf = (text: string): EpochMs => epochMsOf(Date.parse(text));

const factOf = (row: Selectable<Tables['facts']>): NumberedFact => ({
  seq: row.seq,
  order: row.order_id as OrderId,
  key: row.fact_key as FactKey,
  at: instantOf(row.at),
  by: row.by as Who,
  fact: JSON.parse(row.body) as Fact,
});

const paperOf = (row: Selectable<Tables['papers']>): Paper => ({
  series: row.series,
  number: row.number,
  kind: row.kind as PaperKind,
  order: row.order_id as OrderId,
  key: row.fact_key as FactKey,
  at: instantOf(row.at),
  body: JSON.parse(row.body) as PaperBody,
});

const mailOf = (row: Selectable<Tables['mails']>): Mail => ({
  id: row.id,
  order: row.order_id as OrderId | null,
  body: row.body,
  tries: row.tries,
  nextAt: row.next_at === null ? null : instantOf(row.next_at),
  outcome: row.outcome as Mail['outcome'],
  said: row.said,
});
