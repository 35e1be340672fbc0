/** The index store: a port of few methods and the engines behind it. */
export { IndexError } from './indexError.js';
export { openLibsqlStore, openMemoryStore } from './libsqlStore.js';
export { openNodeSqliteStore } from './nodeSqliteStore.js';
export type { IndexRow, IndexStore, IndexValue } from './types.js';
