/** What libsql and node:sqlite have in common, made into an {@link IndexStore}. */
import { IndexError } from './indexError.js';
import type { IndexStore, IndexValue } from './types.js';
import { checkedValues, plainRow } from './values.js';

/** The part of an SQLite binding that is used. Integers must come back as `bigint`. */
export interface Engine {
  readonly name: string;
  exec(sql: string): void;
  prepare(sql: string): {
    run(values: IndexValue[]): { readonly changes: number | bigint };
    all(values: IndexValue[]): readonly object[];
  };
  close(): void;
}

/** Statements are prepared once and kept; the index uses a handful of them. */
export function storeOver(engine: Engine): IndexStore {
  const prepared = new Map<string, ReturnType<Engine['prepare']>>();
  let isInTransaction = false;

  const statementFor = (sql: string) => {
    const statement = prepared.get(sql) ?? engine.prepare(sql);
    prepared.set(sql, statement);
    return statement;
  };
  const asked = <Result>(sql: string, work: () => Result): Result => {
    try {
      return work();
    } catch (cause) {
      if (cause instanceof IndexError) throw cause;
      throw new IndexError(`The index could not run “${sql.slice(0, 80)}”: ${(cause as Error).message}`, { cause });
    }
  };
  const exec = (sql: string) => asked(sql, () => engine.exec(sql));

  return {
    engine: engine.name,
    exec,
    run: (sql, values = []) => asked(sql, () => Number(statementFor(sql).run(checkedValues(values, sql)).changes)),
    all: (sql, values = []) => asked(sql, () => statementFor(sql).all(checkedValues(values, sql)).map(plainRow)),
    transaction(work) {
      if (isInTransaction) throw new IndexError('Expected no open transaction in the index, but one is open already.');
      // Deferred transactions that read and then write fail at once under contention, whatever the timeout.
      exec('begin immediate');
      isInTransaction = true;
      try {
        const result = work();
        engine.exec('commit');
        return result;
      } catch (problem) {
        engine.exec('rollback');
        throw problem;
      } finally {
        isInTransaction = false;
      }
    },
    close() {
      prepared.clear();
      engine.close();
    },
  };
}
