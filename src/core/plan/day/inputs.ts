/** What a day's problem is made from: the other parts of the plan, as plain records and answers. */
import type { SpotId } from '../../ids.js';
import type { Milliseconds, WallMs } from '../../units.js';
import type { BikeSide } from '../circuit/types.js';
import type { Timetable } from '../types.js';
import type { Had, Wish } from './types.js';

export interface DaySpot {
  readonly id: SpotId;
  readonly name: string;
  readonly side: BikeSide | 'both';
  readonly hasShade: boolean;
}

/** A spot of the circuit that the plan does without. */
export interface SpotLeftOut {
  readonly id: SpotId;
  /** With its name, for instance `Sandbar, which wants a permit`. */
  readonly why: string;
}

/** A share of the worth, and why. */
export interface Share {
  /** 0 to 1. */
  readonly share: number;
  readonly words: string;
}

export interface InputWay {
  /** With packing and setting up. */
  readonly minutes: number;
  readonly isOnFoot: boolean;
}

/** Somebody booked before the day. */
export interface Client {
  readonly group: string;
  /** Where they want to be seen; none named: anywhere. */
  readonly spots: readonly SpotId[];
}

/** What a group still needs from a spot, as the coverage so far tells. */
export interface Demand {
  readonly group: string;
  readonly spot: SpotId;
  /** Absent: in every stretch alike. */
  readonly stretch?: string;
  readonly riders: number;
  /** Of them, those whom no picture shows: how many there are is a guess. */
  readonly unseen?: number;
  /** Of the riders, those without good frames from there. */
  readonly lacking: number;
  /** Multiplies the worth, where more is known than who lacks frames. */
  readonly owed?: number;
}

/** How long a group takes for a lap, and whether that was measured of it or is only guessed. */
export interface GroupLap {
  readonly ms: Milliseconds;
  /** From what it was guessed; null: it was measured of this very group. */
  readonly guessedFrom: string | null;
}

export interface DayInputs {
  /** In force: with its slips. */
  readonly timetable: Timetable;
  readonly isHalved: boolean;
  readonly spots: readonly DaySpot[];
  readonly leftOut?: readonly SpotLeftOut[];
  /** While the track is hot, without crossing it; null: there is none. */
  readonly wayBetween: (from: SpotId | 'paddock', to: SpotId | 'paddock') => InputWay | null;
  readonly lightAt: (spot: SpotId, at: WallMs) => Share;
  /** How well a group's pace suits a spot; absent: all alike; null: no speed is known there. */
  readonly fitOf?: (spot: SpotId, group: string) => Share | null;
  readonly lapOf?: (group: string) => GroupLap | null;
  readonly needsShade?: (from: WallMs, to: WallMs) => boolean;
  readonly clients: readonly Client[];
  /** Empty before anything was seen. */
  readonly demands: readonly Demand[];
  readonly carriedKg: number;
  readonly restAfterMinutes: number | null;
  readonly photographers: number;
  readonly wishes: readonly Wish[];
  /** The plan begins here, and only what begins later is planned; null: the whole day. */
  readonly underWay: {
    readonly at: WallMs;
    readonly places: readonly (SpotId | null)[];
    readonly had: readonly Had[];
  } | null;
}
