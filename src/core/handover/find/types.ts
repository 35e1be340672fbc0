/** Finding: what riders may be looked for by, and what a look brings. An entry is one picture of one rider. */
import type { ColourName } from '../../measure/types.js';
import type { PublicId } from '../types.js';

/** `word` is a hashed word of a name; `card` a hashed token of a number card. */
export const FIND_FACETS = [
  'group',
  'session',
  'spot',
  'time',
  'bike',
  'leathers',
  'number',
  'class',
  'word',
  'card',
] as const;
export type FindFacet = (typeof FIND_FACETS)[number];

/** One picture of a rider; what is not known of it is null. */
export interface FindEntry {
  readonly session: number | null;
  readonly group: string | null;
  /** The spot's number on the meeting's map. */
  readonly spot: number | null;
  /** Quarter of an hour of the day, 0–95, in the meeting's zone. */
  readonly quarter: number | null;
}

export interface FindRider {
  readonly id: PublicId;
  readonly bike: readonly ColourName[];
  readonly leathers: ColourName | null;
  readonly number: { readonly text: string; readonly isGuess: boolean } | null;
  readonly class: string | null;
  /** Plain words of the name; none unless the organiser allows it and the rider is of age. */
  readonly words: readonly string[];
  /** Token of the number card they were handed. */
  readonly card: string | null;
  /** In order of time. */
  readonly entries: readonly FindEntry[];
}

/** All criteria have to hold for one and the same picture; of one criterion's keys any. */
export interface Criterion {
  readonly facet: FindFacet;
  readonly keys: readonly string[];
}

/** Why a rider fits. A guess is a number that was read, not said; `near` a colour, quarter or number beside what was asked. */
export interface Why {
  readonly facet: FindFacet;
  readonly key: string;
  readonly is: 'exact' | 'near' | 'guess';
}

export interface FoundRider {
  /** Index among the riders of the index. */
  readonly rider: number;
  /** How many pictures fit as well as the best does. */
  readonly pictures: number;
  /** One for each criterion, in their order, of the first of those pictures. */
  readonly why: readonly Why[];
}
