/** Ids and numbers that come twice: the later one is given another, so that nothing a person drew is lost. */
import type { Place } from '../types.js';
import type { Say } from './members.js';

export interface Numbered {
  readonly id: string;
  readonly number?: number;
}

export function withoutRepeats<T extends Numbered>(
  what: 'spot' | 'way',
  all: readonly T[],
  placesOf: (one: T) => readonly Place[],
  say: Say,
): T[] {
  const ids = new Set<string>();
  const numbers = new Set<number>();
  const taken = new Set(all.flatMap(({ number }) => number ?? []));
  return all.map((one) => {
    const id = freeId(one.id, ids, all);
    if (id !== one.id)
      say({
        kind: 'repeated',
        sentence: `Two ${what}s have the id ${one.id}; the later one was given ${id}. Look whether they are two.`,
        at: all.filter((other) => other.id === one.id).flatMap(placesOf),
      });
    ids.add(id);
    if (one.number === undefined) return { ...one, id };
    const number = numbers.has(one.number) ? firstFree(taken) : one.number;
    if (number !== one.number)
      say({
        kind: 'repeated',
        sentence: `Two ${what}s have the number ${one.number}; the later one, ${id}, was given ${number}. Number them as you like.`,
        at: all.filter((other) => other.number === one.number).flatMap(placesOf),
      });
    numbers.add(number);
    taken.add(number);
    return { ...one, id, number };
  });
}

/** The id itself, or with the first number that nobody else has. */
function freeId(id: string, used: ReadonlySet<string>, all: readonly Numbered[]): string {
  if (!used.has(id)) return id;
  let suffix = 2;
  const isTaken = (name: string): boolean => used.has(name) || all.some((one) => one.id === name);
  while (isTaken(`${id}-${suffix}`)) suffix++;
  return `${id}-${suffix}`;
}

const firstFree = (taken: ReadonlySet<number>): number => {
  let number = 1;
  while (taken.has(number)) number++;
  return number;
};
