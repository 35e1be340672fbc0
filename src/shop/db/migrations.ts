/** The schema, step by step, the same for both databases. A step that stands is never changed: add another. */
import type { Kysely, Migration, MigrationProvider } from 'kysely';
import { SEQUENCE, type Tables } from './tables.js';

/** SQLite changes its schema outside of a transaction here; a step killed half-way is made again, so each part of it may stand already. */
const first: Migration = {
  async up(db: Kysely<unknown>) {
    const table = (name: string) => db.schema.createTable(name).ifNotExists();
    await table('facts')
      .addColumn('seq', 'integer', (c) => c.primaryKey())
      .addColumn('order_id', 'text', (c) => c.notNull())
      .addColumn('fact_key', 'text', (c) => c.notNull().unique())
      .addColumn('kind', 'text', (c) => c.notNull())
      .addColumn('at', 'text', (c) => c.notNull())
      .addColumn('by', 'text', (c) => c.notNull())
      .addColumn('body', 'text', (c) => c.notNull())
      .execute();
    await db.schema.createIndex('facts_of_order').ifNotExists().on('facts').columns(['order_id', 'seq']).execute();
    await table('papers')
      .addColumn('series', 'text', (c) => c.notNull())
      .addColumn('number', 'integer', (c) => c.notNull())
      .addColumn('kind', 'text', (c) => c.notNull())
      .addColumn('order_id', 'text', (c) => c.notNull())
      .addColumn('fact_key', 'text', (c) => c.notNull().unique())
      .addColumn('at', 'text', (c) => c.notNull())
      .addColumn('body', 'text', (c) => c.notNull())
      .addPrimaryKeyConstraint('papers_numbered', ['series', 'number'])
      .execute();
    await db.schema.createIndex('papers_of_order').ifNotExists().on('papers').column('order_id').execute();
    await table('series')
      .addColumn('name', 'text', (c) => c.primaryKey())
      .addColumn('last', 'integer', (c) => c.notNull())
      .execute();
    await db
      .withTables<Pick<Tables, 'series'>>()
      .insertInto('series')
      .values({ name: SEQUENCE, last: 0 })
      .onConflict((say) => say.doNothing())
      .execute();
    await table('offers')
      .addColumn('meeting', 'text', (c) => c.primaryKey())
      .addColumn('at', 'text', (c) => c.notNull())
      .addColumn('body', 'text', (c) => c.notNull())
      .execute();
    await table('vouchers')
      .addColumn('meeting', 'text', (c) => c.notNull())
      .addColumn('code', 'text', (c) => c.notNull())
      .addColumn('body', 'text', (c) => c.notNull())
      .addPrimaryKeyConstraint('vouchers_by_code', ['meeting', 'code'])
      .execute();
    await table('voucher_uses')
      .addColumn('order_id', 'text', (c) => c.primaryKey())
      .addColumn('meeting', 'text', (c) => c.notNull())
      .addColumn('code', 'text', (c) => c.notNull())
      .execute();
    await db.schema
      .createIndex('voucher_uses_by_code')
      .ifNotExists()
      .on('voucher_uses')
      .columns(['meeting', 'code'])
      .execute();
    await table('webhooks')
      .addColumn('id', 'text', (c) => c.primaryKey())
      .addColumn('at', 'text', (c) => c.notNull())
      .execute();
    await table('messages')
      .addColumn('seq', 'integer', (c) => c.primaryKey())
      .addColumn('id', 'text', (c) => c.notNull().unique())
      .addColumn('meeting', 'text', (c) => c.notNull())
      .addColumn('kind', 'text', (c) => c.notNull())
      .addColumn('at', 'text', (c) => c.notNull())
      .addColumn('body', 'text', (c) => c.notNull())
      .execute();
    await table('mails')
      .addColumn('id', 'text', (c) => c.primaryKey())
      .addColumn('order_id', 'text')
      .addColumn('tries', 'integer', (c) => c.notNull())
      .addColumn('next_at', 'text')
      .addColumn('outcome', 'text', (c) => c.notNull())
      .addColumn('said', 'text', (c) => c.notNull())
      .addColumn('body', 'text', (c) => c.notNull())
      .execute();
    await db.schema.createIndex('mails_due').ifNotExists().on('mails').column('next_at').execute();
    await table('kept')
      .addColumn('name', 'text', (c) => c.primaryKey())
      .addColumn('value', 'text', (c) => c.notNull())
      .execute();
  },
};

export const migrations: MigrationProvider = {
  getMigrations: () => Promise.resolve({ '001-orders': first }),
};
