/** Clients who booked before the meeting: whether each is seen, session by session, and what is still owed. */
import type { SpotId } from '../../../ids.js';
import type { WallMs } from '../../../units.js';

/** What a booking comes to in figures, read from its words. */
export interface BookedPackage {
  readonly pictures: number | null;
  readonly spots: number | null;
}

/** How the pictures are known to be this client's. */
export type ClientProof =
  | { readonly kind: 'said' }
  /** The number was read on the bike. */
  | { readonly kind: 'read'; readonly confidence: number };

export interface SeenFrom {
  readonly spot: SpotId | null;
  readonly good: number;
  readonly frames: number;
}

/** What the cards brought in say, and nothing else. */
export type CardsSay =
  | {
      readonly kind: 'seen';
      readonly by: ClientProof;
      readonly good: number;
      readonly frames: number;
      readonly from: readonly SeenFrom[];
    }
  /** `no-card-yet`: none of the frames brought in is of this session or later. */
  | { readonly kind: 'not-seen'; readonly why: 'not-in-the-cards' | 'no-card-yet' | 'to-come' };

/** A tap beside the track: the photographer's word. */
export interface GotIt {
  readonly at: WallMs;
  readonly spot: SpotId | null;
  /** A frame of this client within two minutes of it, none though the card is in, or the card is not in yet. */
  readonly cards: 'shown' | 'not-shown' | 'no-card-yet';
}

export interface ClientSession {
  /** As the timetable or the arrangement calls it. */
  readonly name: string;
  readonly group: string | null;
  readonly start: WallMs;
  readonly end: WallMs;
  readonly when: 'over' | 'now' | 'to-come';
  readonly cards: CardsSay;
  readonly got: readonly GotIt[];
}

/** Of good frames: the cards prove them. Null where the booking's words give no figure. */
export interface StillOwed {
  readonly pictures: number | null;
  readonly spots: number | null;
}

export interface ClientLine {
  readonly event: string;
  readonly class: string;
  readonly number: string;
  /** From the entry list; null: none is known, or it is not to be said. */
  readonly name: string | null;
  /** What they booked, in their words. */
  readonly wants: string;
  readonly booked: BookedPackage;
  readonly sessions: readonly ClientSession[];
  readonly good: number;
  readonly frames: number;
  readonly spots: readonly SpotId[];
  readonly owed: StillOwed;
  /** Their session is on and neither cards nor taps show them in it. */
  readonly isWanted: boolean;
  /** What is not sure about this line, in sentences. */
  readonly doubts: readonly string[];
}

export interface ClientsView {
  readonly meeting: string;
  /** By the meeting's clocks. */
  readonly asOf: WallMs;
  /** The latest frame brought in; null: none. */
  readonly cardsUntil: WallMs | null;
  /** Of whoever tapped, to stand beside their word. */
  readonly initials: string | null;
  /** Wanted now first, then by class and number. */
  readonly clients: readonly ClientLine[];
  readonly spots: readonly { readonly id: SpotId; readonly name: string }[];
}
