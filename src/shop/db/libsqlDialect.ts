/**
 * Kysely over the index's SQLite port: one connection, one at a time, transactions that take the write lock at once. Kysely's own SQLite
 * dialect begins them deferred, and one of those that reads and then writes fails under contention, whatever the timeout.
 */
import { setTimeout } from 'node:timers/promises';
import {
  CompiledQuery,
  type DatabaseConnection,
  type Dialect,
  type Driver,
  type QueryResult,
  SqliteAdapter,
  SqliteIntrospector,
  SqliteQueryCompiler,
} from 'kysely';
import type { IndexStore, IndexValue } from '../../host/index/types.js';

/** For another program's transaction. SQLite's own waiting would hold up everything else here, so it is asked again instead. */
const PAUSE_MS = 5;
const MOST_WAIT_MS = 10_000;

export const libsqlDialect = (store: IndexStore): Dialect => ({
  createAdapter: () => new SqliteAdapter(),
  createDriver: () => new OneConnection(store),
  createIntrospector: (db) => new SqliteIntrospector(db),
  createQueryCompiler: () => new SqliteQueryCompiler(),
});

class OneConnection implements Driver {
  readonly #connection: StoreConnection;
  /** Who waits, one behind the other. */
  #before: Promise<void> = Promise.resolve();
  #release: () => void = () => undefined;

  constructor(store: IndexStore) {
    this.#connection = new StoreConnection(store);
  }

  init(): Promise<void> {
    return Promise.resolve();
  }

  async acquireConnection(): Promise<DatabaseConnection> {
    const before = this.#before;
    let release: () => void = () => undefined;
    this.#before = new Promise((done) => {
      release = done;
    });
    await before;
    this.#release = release;
    return this.#connection;
  }

  releaseConnection(): Promise<void> {
    this.#release();
    return Promise.resolve();
  }

  async beginTransaction(connection: DatabaseConnection): Promise<void> {
    for (let waitedMs = 0; ; waitedMs += PAUSE_MS)
      try {
        await said(connection, 'begin immediate');
        return;
      } catch (error) {
        if (waitedMs >= MOST_WAIT_MS || !/locked|busy/i.test((error as Error).message)) throw error;
        await setTimeout(PAUSE_MS);
      }
  }

  commitTransaction = (connection: DatabaseConnection): Promise<void> => said(connection, 'commit');
  rollbackTransaction = (connection: DatabaseConnection): Promise<void> => said(connection, 'rollback');

  destroy(): Promise<void> {
    this.#connection.close();
    return Promise.resolve();
  }
}

async function said(connection: DatabaseConnection, sql: string): Promise<void> {
  await connection.executeQuery(CompiledQuery.raw(sql));
}

class StoreConnection implements DatabaseConnection {
  readonly #store: IndexStore;

  constructor(store: IndexStore) {
    this.#store = store;
  }

  close(): void {
    this.#store.close();
  }

  // Async, so that what the engine throws is a refusal like any other.
  async executeQuery<Row>({ sql, parameters }: CompiledQuery): Promise<QueryResult<Row>> {
    const values = parameters as readonly IndexValue[];
    if (/^\s*(select|with|pragma)\b|\breturning\b/i.test(sql))
      return { rows: this.#store.all(sql, values) as unknown as Row[] };
    return { rows: [], numAffectedRows: BigInt(this.#store.run(sql, values)) };
  }

  streamQuery(): AsyncIterableIterator<QueryResult<never>> {
    throw new Error('Orders are read in pages, not as a stream.');
  }
}
