/** Opens the orders' database, or makes it, and brings its schema up to this version. */
import { type Dialect, Kysely, Migrator, PostgresDialect } from 'kysely';
import pg from 'pg';
import { openLibsqlStore } from '../../host/index/libsqlStore.js';
import { libsqlDialect } from './libsqlDialect.js';
import { migrations } from './migrations.js';
import { storeOver } from './storeOver.js';
import type { Tables } from './tables.js';
import type { OrderStore } from './types.js';

/** A file, or `:memory:`. What was acknowledged stands after a power cut: `synchronous = full`. */
export function openLibsqlOrders(path: string): Promise<OrderStore> {
  const store = openLibsqlStore(path);
  store.exec('pragma synchronous = full; pragma busy_timeout = 20');
  return opened(libsqlDialect(store), 'libsql');
}

/** Writers queue at one row, so more connections than a few only wait. */
const CONNECTIONS = 8;
/** A server that is gone is an error in a few seconds, not a page that never comes. */
const CONNECT_TIMEOUT_MS = 5_000;

export function openPostgresOrders(address: string): Promise<OrderStore> {
  const pool = new pg.Pool({
    connectionString: address,
    max: CONNECTIONS,
    connectionTimeoutMillis: CONNECT_TIMEOUT_MS,
    statement_timeout: 30_000,
  });
  // A connection that breaks while nobody uses it is replaced; without this line it would end the process.
  pool.on('error', () => undefined);
  return opened(new PostgresDialect({ pool }), 'postgresql');
}

async function opened(dialect: Dialect, engine: OrderStore['engine']): Promise<OrderStore> {
  const db = new Kysely<Tables>({ dialect });
  const { error } = await new Migrator({ db, provider: migrations }).migrateToLatest();
  if (error === undefined) return storeOver(db, engine);
  await db.destroy();
  throw error;
}
