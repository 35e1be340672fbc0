/** The plan: where one stands, what the day's timetable says. Earliest stage; knows of no pictures. */
import type { BodyKey, SpotId } from '../ids.js';
import type { Milliseconds, WallMs } from '../units.js';

/** An ability group of a track day or a class of a race meeting. */
export interface Group {
  /** Short and stable, for instance `N`; also the letter on screens. */
  readonly key: string;
  readonly name: string;
}

export interface TimetableSlot {
  /** For instance `N3`. */
  readonly name: string;
  readonly group: string;
  readonly start: WallMs;
  readonly end: WallMs;
  readonly isSighting?: boolean;
  /** Whoever likes goes out and in: no group, no set sessions. */
  readonly isOpenPitLane?: boolean;
}

/** Time in which nobody rides by plan. Where lunch is not said, the longest gap about noon is taken for it. */
export interface Pause {
  readonly kind: 'lunch' | 'pause';
  readonly name: string;
  readonly start: WallMs;
  readonly end: WallMs;
}

/** `clock-fixed`: a lost minute is lost. `sliding`: everything after moves. */
export type SlipRule = 'clock-fixed' | 'sliding';

export interface Timetable {
  readonly groups: readonly Group[];
  readonly slots: readonly TimetableSlot[];
  readonly slipRule: SlipRule;
  /** Fastest lap known for this circuit; no bike returns sooner. Absent when nobody said. */
  readonly fastestLapMs?: Milliseconds;
  readonly pauses?: readonly Pause[];
  /** Of each day for which it was said: nobody rides after it. */
  readonly curfews?: readonly WallMs[];
}

export interface Spot {
  readonly id: SpotId;
  /** The number painted in the run sheet, from 1. */
  readonly number: number;
  readonly name: string;
}

/** What the person says about where they stood: it is their word, not a measurement. */
export interface Stand {
  readonly spot: SpotId;
  readonly from: WallMs;
  readonly to: WallMs;
  /** Where it was said of one body: two photographers share a day. */
  readonly body?: BodyKey;
}
