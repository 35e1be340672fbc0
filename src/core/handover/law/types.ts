/**
 * What law and decency ask of handing over: licences, consents, takedowns with proof, what is kept how long. Everything that
 * differs from country to country is a template, and says "check with local law" wherever a photographer reads it.
 */
import type { GestureId } from '../../ids.js';
import type { EpochMs } from '../../units.js';
import type { PublicId } from '../types.js';

/** Languages the texts are written in; BCP 47. */
export type LawLanguage = 'en' | 'de' | 'fr' | 'it' | 'es' | 'ar';

/** What a text of law is filled with; all of it the meeting's own. */
export interface LawAbout {
  readonly name: string;
  /** `YYYY-MM-DD`. */
  readonly firstDay: string;
  readonly creator?: string;
  readonly credit?: string;
  /** An e-mail or a web address. */
  readonly contact?: string;
}

/** One thing that was removed. `what` is a path below its place, or a public id: never a name of a person. */
export interface RemovedThing {
  readonly what: string;
  /** Of its bytes as they were before, as 64 hex digits; null where it has none, as an order's line. */
  readonly sha256: string | null;
  readonly bytes: number | null;
}

export type PlaceKind = 'galleries' | 'proofs' | 'finals' | 'taken-out' | 'cache' | 'put-up' | 'orders';

/** What one place did with what was taken down. */
export type PlaceCleared = { readonly place: string; readonly kind: PlaceKind } & (
  | { readonly standing: 'cleared'; readonly removed: readonly RemovedThing[] }
  /** Could not be reached, or not wholly: `sentence` says what to do. What was removed all the same is told. */
  | { readonly standing: 'pending'; readonly removed: readonly RemovedThing[]; readonly sentence: string }
);

/** Who was told what lies where, when it left, and what is still to leave. Holds no name and no contact. */
export interface TakeDownProof {
  readonly v: 1;
  readonly meeting: string;
  readonly gesture: GestureId;
  readonly saidAt: EpochMs;
  readonly provedAt: EpochMs;
  readonly asked: 'frames' | 'rider' | 'person';
  /** Public ids that show nothing any more. */
  readonly addresses: readonly PublicId[];
  readonly places: readonly PlaceCleared[];
}

/** A kind of data with a time of its own. */
export type KeptKind =
  | 'proofs'
  | 'finals'
  | 'organiser'
  | 'galleries'
  | 'put-up'
  | 'crops'
  | 'contacts'
  | 'links'
  | 'order-contacts';

/** Days from the meeting's last day; of orders and their links from the day they were placed. */
export type KeepDays = Readonly<Record<KeptKind, number>>;
