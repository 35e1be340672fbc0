/** What goes into and comes out of an engine, made the same for all of them. */
import { IndexError } from './indexError.js';
import type { IndexRow, IndexValue } from './types.js';

const isStorable = (value: unknown): value is IndexValue =>
  value === null ||
  typeof value === 'string' ||
  typeof value === 'bigint' ||
  (typeof value === 'number' && Number.isFinite(value)) ||
  value instanceof Uint8Array;

/** Refuses what engines would swallow: libsql stores `undefined` as null, and a boolean ends the whole process. */
export function checkedValues(values: readonly unknown[], sql: string): IndexValue[] {
  return values.map((value, i) => {
    if (isStorable(value)) return typeof value === 'number' && Number.isSafeInteger(value) ? BigInt(value) : value;
    const received = typeof value === 'number' ? String(value) : typeof value;
    throw new IndexError(
      `Expected text, a finite number, bytes or null as value ${i + 1} of “${sql}” but got ${received}.`,
      { received: value },
    );
  });
}

function plainValue(value: unknown): IndexValue {
  if (typeof value === 'bigint') return Number.isSafeInteger(Number(value)) ? Number(value) : value;
  if (value instanceof ArrayBuffer) return new Uint8Array(value);
  if (value instanceof Uint8Array) return new Uint8Array(value);
  return value as IndexValue;
}

/** A plain row: libsql adds `_metadata` to some, node:sqlite gives them no prototype. */
export function plainRow(row: object): IndexRow {
  const plain: Record<string, IndexValue> = {};
  for (const [name, value] of Object.entries(row)) if (name !== '_metadata') plain[name] = plainValue(value);
  return plain;
}
