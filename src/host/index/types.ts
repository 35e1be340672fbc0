/**
 * The index store: an embedded SQL database behind a few methods, so that one engine can stand in for another.
 * It holds nothing that cannot be made again from the meeting folder.
 */

/** Integers come back as `number` where that is exact, else as `bigint`: never rounded. */
export type IndexValue = null | string | number | bigint | Uint8Array;
export type IndexRow = Readonly<Record<string, IndexValue>>;

export interface IndexStore {
  /** Which engine answers, for notes and reports. */
  readonly engine: string;
  /** Runs statements without parameters; for schema and pragmas. */
  exec(sql: string): void;
  /** One statement with parameters by position; returns how many rows it changed. */
  run(sql: string, values?: readonly IndexValue[]): number;
  all(sql: string, values?: readonly IndexValue[]): readonly IndexRow[];
  /** `begin immediate` … `commit`; rolled back when `work` throws. Not nested. */
  transaction<Result>(work: () => Result): Result;
  close(): void;
}
