/** The morning as it stands at lunch: coverage per group and spot, and whom to look for. */
import type { RiderKey, SpotId } from '../../ids.js';
import type { LapSoFar, OwedRider, YieldAt } from '../../plan/lunch/types.js';
import type { Unseen } from '../types.js';

export interface GroupAtSpot {
  readonly spot: SpotId;
  /** Sessions of the group in which somebody stood here, said or shown by frames. */
  readonly stood: number;
  /** Riders by the state of their arc. */
  readonly good: number;
  readonly unsure: number;
  readonly missed: number;
  readonly toCome: number;
  readonly goodFrames: number;
}

export interface GroupMorning {
  /** Null: riders of whom no group is known. */
  readonly group: string | null;
  /** Found, instructors left out. */
  readonly riders: number;
  /** In the order of the meeting's spots. */
  readonly spots: readonly GroupAtSpot[];
  /** Fewest good frames first. */
  readonly thin: readonly RiderKey[];
  /** With good frames and spots enough. */
  readonly enough: readonly RiderKey[];
  /** Not seen at all, by session in order; empty where nothing can be said. */
  readonly unseen: readonly Unseen[];
  /** Riders whom no picture of the morning shows, as a range; null: nothing can be said. */
  readonly neverShown: { readonly from: number; readonly to: number; readonly reason: string } | null;
  /** Middle of its riders' laps; null: too few passes of one spot to tell. */
  readonly lap: LapSoFar | null;
}

/** Somebody to look for in the afternoon. Livery, number, helmet and picture are the rider's own. */
export interface Watched {
  readonly rider: RiderKey;
  readonly group: string | null;
  readonly goodFrames: number;
  /** With a good frame. */
  readonly spots: readonly SpotId[];
  /** Stood at while the group ran, without a frame of this rider that is sure to be good. */
  readonly missed: readonly SpotId[];
  readonly lap: LapSoFar | null;
  /** `no good frame yet`, `1 good frame, from 1 spot`. */
  readonly why: string;
  /** What a client booked, in their words. */
  readonly wants?: string;
}

export interface Morning {
  /** In the order of the timetable; riders without a group last, where there are any. */
  readonly groups: readonly GroupMorning[];
  /** Most owed first. */
  readonly watch: readonly Watched[];
  /** Of an entry list; null: there is none. */
  readonly neverSeen: readonly { readonly number?: string; readonly words: string }[] | null;
  /** For planning: instructors left out. */
  readonly owed: readonly OwedRider[];
  readonly yields: readonly YieldAt[];
  /** By group, the middle of the range. */
  readonly neverShown: ReadonlyMap<string, number>;
  /** How unlike riders come into pictures: the size of a negative binomial. */
  readonly spread: number;
}
