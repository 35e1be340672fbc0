/** Choosing: keepers per rider by sharpness, framing and variety. */
import type { BikeRef } from '../arrange/types.js';
import type { GoodFrameJudgement } from '../cover/types.js';
import type { RiderKey, SpotId } from '../ids.js';
import type { BikeSide } from '../plan/circuit/types.js';

export interface Keeper {
  readonly rider: RiderKey;
  readonly bike: BikeRef;
  /** Why, in words: what it is by itself, and what it is the first of. */
  readonly reasons: readonly string[];
  /** What the rider's set gained by it when it was taken. */
  readonly worth: number;
  readonly source: 'proposed' | 'kept-by-person';
}

/** A person's quotas: `choose-rules` in the log. */
export interface ChooseRules {
  readonly mostPerRider: number;
  readonly mostPerSpot: number;
  /** Over all riders; null: as many as the riders' own limits give. */
  readonly mostInAll: number | null;
  /** A rider with fewer keepers is shown first. */
  readonly leastPerRider: number;
}

export interface Keepers {
  readonly rules: ChooseRules;
  readonly byRider: ReadonlyMap<RiderKey, readonly Keeper[]>;
  /** Frames a person left out. */
  readonly leftOut: readonly BikeRef[];
}

/** What is known of a spot beforehand, from the circuit's drawing. What is not known is absent. */
export interface SpotFacts {
  /** Of the bike, turned to the lens. */
  readonly side?: BikeSide | 'both';
  /** By group: a frame with a slower shutter is a slow one. */
  readonly sureShutterS?: ReadonlyMap<string, number>;
}
export type SpotsFacts = ReadonlyMap<SpotId, SpotFacts>;

/** How a frame was taken, as its file says. */
export interface TakenWith {
  readonly shutterS?: number;
  readonly focalLengthMm?: number;
}

/** What a set ought to show and does not. */
export type Lack =
  /** Frames of the rider from there, none of them good; with none at all, the spot was stood at in vain. */
  | { readonly kind: 'spot'; readonly spot: SpotId; readonly frames: number }
  | { readonly kind: 'side'; readonly side: BikeSide }
  | { readonly kind: 'shutter'; readonly is: 'sure' | 'slow' }
  | { readonly kind: 'number'; readonly number: string };

/** A frame of the rider that is no keeper. */
export interface Other {
  readonly bike: BikeRef;
  /** Index into the arrangement's passes. */
  readonly pass: number;
  /** What the set would gain by it as it stands, or in the place of the keeper it is told beside. */
  readonly worth: number;
  readonly reasons: readonly string[];
  readonly judgement: GoodFrameJudgement['kind'];
  readonly isLeftOut: boolean;
}

export interface Second extends Other {
  /** What the set would lose with it in the keeper's place; less than nothing where a person kept the lesser one. */
  readonly loss: number;
  /** In a few words, what puts it behind. */
  readonly behind: string;
}

export interface ProposedKeeper extends Keeper {
  readonly pass: number;
  readonly judgement: GoodFrameJudgement['kind'];
  /** Other frames of its pass, best first: what *another* goes through. */
  readonly ofPass: readonly Other[];
  /** What would stand in its place were it not there; null: nothing would. */
  readonly second: Second | null;
}

/** All there is to one rider's set. */
export interface Proposal {
  readonly rider: RiderKey;
  /** In the order they were taken: what a person kept, then what was proposed. */
  readonly keepers: readonly ProposedKeeper[];
  readonly isBelowLeast: boolean;
  /** One of each pass that shows none, most gain first, good ones before the best there is: what *add* goes through. */
  readonly toAdd: readonly Other[];
  readonly leftOut: readonly BikeRef[];
  readonly lacks: readonly Lack[];
}

/** Riders as a person goes through them: those below the least first, then in the day's order. */
export interface LeftToChoose {
  readonly left: readonly RiderKey[];
  readonly gone: readonly RiderKey[];
  readonly belowLeast: readonly RiderKey[];
  readonly time: TimeLeft;
}

/** A guess from how long the answers took so far, never shown as a measurement. */
export type TimeLeft =
  | { readonly kind: 'done' }
  | { readonly kind: 'not-known-yet'; readonly answers: number; readonly wanted: number }
  | {
      readonly kind: 'guessed';
      readonly seconds: number;
      /** Nine times in ten it is between these. */
      readonly from: number;
      readonly to: number;
      readonly answers: number;
    };

/** What to look at in so many minutes; the rest stands as proposed. */
export interface MinutesPlan {
  /** Most gain in a second first, those below the least before all others. */
  readonly look: readonly RiderKey[];
  readonly asProposed: readonly RiderKey[];
  readonly seconds: number;
  /** `usual`: nobody answered often enough yet, so the pace is this project's convention. */
  readonly pace: 'of the answers' | 'usual';
}

/** One state of the day, prepared once by `startChoosing`. */
export interface Choosing {
  readonly keepers: Keepers;
  /** Null: no such rider in this arrangement. */
  readonly proposalFor: (rider: RiderKey) => Proposal | null;
  /** Who is left, and how long it may take. */
  readonly left: () => LeftToChoose;
  readonly minutes: (minutes: number) => MinutesPlan;
}
