/** The same over `node:sqlite`, for a Node that has it (22.5 and later): the engine that could replace libsql. */
import { createRequire } from 'node:module';
import { storeOver } from './engine.js';
import type { IndexStore, IndexValue } from './types.js';

/** Declared here because the types of Node 20 do not know the module. */
interface NodeStatement {
  setReadBigInts(enabled: boolean): void;
  run(...values: IndexValue[]): { readonly changes: number | bigint };
  all(...values: IndexValue[]): readonly object[];
}
interface NodeDatabase {
  exec(sql: string): void;
  prepare(sql: string): NodeStatement;
  close(): void;
}
interface NodeSqlite {
  readonly DatabaseSync: new (path: string) => NodeDatabase;
}

function nodeSqlite(): NodeSqlite | null {
  try {
    return createRequire(import.meta.url)('node:sqlite') as NodeSqlite;
  } catch {
    return null;
  }
}

/** Null where this Node has no `node:sqlite`. */
export function openNodeSqliteStore(path: string): IndexStore | null {
  const sqlite = nodeSqlite();
  if (sqlite === null) return null;
  const database = new sqlite.DatabaseSync(path);
  database.exec('pragma busy_timeout = 5000; pragma journal_mode = wal; pragma synchronous = normal;');
  return storeOver({
    name: 'node:sqlite',
    exec: (sql) => database.exec(sql),
    prepare: (sql) => {
      const statement = database.prepare(sql);
      statement.setReadBigInts(true);
      return { run: (values) => statement.run(...values), all: (values) => statement.all(...values) };
    },
    close: () => database.close(),
  });
}
