/** The index over libsql (SQLite, prebuilt): the engine used by default. */
import Database from 'libsql';
import { storeOver } from './engine.js';
import type { IndexStore } from './types.js';

/** How long a second connection waits for the first one's transaction. */
const BUSY_TIMEOUT_MS = 5_000;

export interface LibsqlOptions {
  readonly busyTimeoutMs?: number;
  /** `delete` where the file is only a lock: in WAL mode an exclusive transaction would still let others in. */
  readonly journal?: 'wal' | 'delete';
}

/** Opens or makes the database file. `synchronous=normal` is enough: whatever is lost is made again. */
export function openLibsqlStore(path: string, options: LibsqlOptions = {}): IndexStore {
  const database = new Database(path, { timeout: options.busyTimeoutMs ?? BUSY_TIMEOUT_MS });
  const store = storeOver({
    name: 'libsql',
    exec: (sql) => void database.exec(sql),
    prepare: (sql) => {
      const statement = database.prepare(sql).safeIntegers(true);
      return { run: (values) => statement.run(values), all: (values) => statement.all(values) as object[] };
    },
    close: () => void database.close(),
  });
  if (options.journal !== 'delete') store.exec('pragma journal_mode = wal; pragma synchronous = normal;');
  return store;
}

/** Nothing on any disk: for meetings that are only looked at, and for tests. */
export const openMemoryStore = (): IndexStore => openLibsqlStore(':memory:');
