/** How what is looked for is written in the index, the same where it is laid and where it is asked. */
import type { FindFacet } from './types.js';

/** A number that was read stands under this, so that one that was said comes first. */
export const GUESS_MARK = '~';

/** Several keys of these facets lie under their first letter: of a number its beginning is enough, of words nobody can list them. */
const BY_FIRST_LETTER: readonly FindFacet[] = ['number', 'word', 'card'];

export const placeOf = (facet: FindFacet, key: string): string =>
  BY_FIRST_LETTER.includes(facet) ? key.slice(0, 1) : key;

/** Letters and digits only, as a plate shows them. */
export const numberKey = (number: string): string => number.toUpperCase().replace(/[^\p{L}\p{N}]/gu, '');

/** Free words have no space or line end in them. */
export const plainKey = (words: string): string => encodeURIComponent(words.trim().toLowerCase());

export const slugKey = (colour: string): string => colour.replace(' ', '-');

/** Words of a name as people type them: without accents, capitals and signs. */
export const wordsOf = (name: string): readonly string[] => [
  ...new Set(
    name
      .normalize('NFKD')
      .replace(/\p{M}/gu, '')
      .toLowerCase()
      .split(/[^\p{L}\p{N}]+/u)
      .filter((word) => word.length > 1),
  ),
];

const OFFSET = 0xcbf29ce484222325n;
const PRIME = 0x100000001b3n;

/** FNV-1a, 64 bits (RFC 9923). No secret: it keeps names from being read and listed, not from being tried one by one. */
export function fnv1a64(text: string): string {
  let hash = OFFSET;
  for (const byte of utf8(text)) hash = BigInt.asUintN(64, (hash ^ BigInt(byte)) * PRIME);
  return hash.toString(16).padStart(16, '0');
}

/** Bound to its meeting, so that one list of hashed names fits no other. */
export const hiddenKey = (meeting: string, word: string): string => fnv1a64(`${meeting}:${word}`);

/** Bytes of UTF-8. */
const utf8 = (text: string): readonly number[] =>
  [...encodeURIComponent(text).matchAll(/%([0-9A-F]{2})|./g)].map(([letter, hex]) =>
    hex === undefined ? letter.charCodeAt(0) : Number.parseInt(hex, 16),
  );
