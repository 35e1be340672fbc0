/** Members of a feature read one by one: what is wrong with one is said, and the others are read all the same. */
import type { CircuitProblem, Place } from '../types.js';

export type Say = (problem: CircuitProblem) => void;

export interface Where {
  /** `features[3].properties`. */
  readonly path: string;
  /** `the spot Beacon`. */
  readonly what: string;
  readonly at: readonly Place[];
}

export type Accept<T> = { readonly expected: string; read(value: unknown): T | undefined };

export const someText: Accept<string> = {
  expected: 'some words',
  read: (value) => (typeof value === 'string' && value.trim() !== '' ? value : undefined),
};
/** An id written as a number is taken as its digits. */
export const someId: Accept<string> = {
  expected: 'a short id',
  read: (value) => (typeof value === 'number' && Number.isFinite(value) ? String(value) : someText.read(value)),
};
export const yesOrNo: Accept<boolean> = {
  expected: 'true or false',
  read: (value) => (typeof value === 'boolean' ? value : undefined),
};
export const numberFrom = (from: number, to: number, unit: string): Accept<number> => ({
  expected: `a number of ${unit} from ${from} to ${to}`,
  read: (value) => (isFiniteNumber(value) && value >= from && value <= to ? value : undefined),
});
export const oneOf = <T extends string>(...words: readonly T[]): Accept<T> => ({
  expected: `one of ${words.join(', ')}`,
  read: (value) => words.find((word) => word === value),
});
export const listOf = <T>(item: Accept<T>): Accept<readonly T[]> => ({
  expected: `a list, each ${item.expected}`,
  read: (value) => {
    if (!Array.isArray(value)) return undefined;
    const items = value.map((one) => item.read(one));
    return items.includes(undefined) ? undefined : (items as T[]);
  },
});

export const isFiniteNumber = (value: unknown): value is number => typeof value === 'number' && Number.isFinite(value);
export const isRecord = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** As it came, short enough for a sentence. */
export const showValue = (value: unknown): string => {
  const text = JSON.stringify(value) ?? 'nothing';
  return text.length > 40 ? `${text.slice(0, 37)}…` : text;
};

export class Members {
  private readonly values: Readonly<Record<string, unknown>>;
  private readonly where: Where;
  private readonly say: Say;

  constructor(values: unknown, where: Where, say: Say) {
    this.values = isRecord(values) ? values : {};
    this.where = where;
    this.say = say;
  }

  /** `{ key: value }`, or nothing where it is absent or wrong; the latter is said. GIS tools write null for absent. */
  optional<K extends string, T>(key: K, accept: Accept<T>): { readonly [P in K]?: T } {
    const came = this.values[key];
    if (came === undefined || came === null) return {};
    const value = accept.read(came);
    if (value !== undefined) return { [key]: value } as { [P in K]?: T };
    const { what, path, at } = this.where;
    this.say({
      kind: 'wrong-value',
      sentence: `Expected ${key} of ${what} (${path}) to be ${accept.expected}, but found ${showValue(came)}; it was left out. Correct it or take it away.`,
      at,
    });
    return {};
  }

  /** What stands where it is absent is said, too. */
  needed<T>(key: string, accept: Accept<T>, otherwise: T, said: string): T {
    const came = this.values[key];
    const value = came === undefined || came === null ? undefined : accept.read(came);
    if (value !== undefined) return value;
    const { what, path, at } = this.where;
    const found = came === undefined || came === null ? 'it is missing' : `found ${showValue(came)}`;
    this.say({
      kind: came === undefined || came === null ? 'missing' : 'wrong-value',
      sentence: `Expected ${key} of ${what} (${path}) to be ${accept.expected}, but ${found}; ${said}.`,
      at,
    });
    return otherwise;
  }
}
