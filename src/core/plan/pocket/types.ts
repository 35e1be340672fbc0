/**
 * What the photographer carries in the pocket: one day of the plan, small enough for a QR code, and what was tapped beside the
 * track on its way back. Times are minutes since the day's midnight at the circuit, as timetables are.
 */
import type { SpotId } from '../../ids.js';
import type { Milliseconds, WallMs } from '../../units.js';
import type { LightFrom } from '../light/types.js';
import type { Group, SlipRule } from '../types.js';

/** The colour names that liveries are said in; the same as measuring uses. */
export const POCKET_COLOURS = [
  'black',
  'white',
  'grey',
  'silver',
  'red',
  'orange',
  'yellow',
  'lime',
  'green',
  'teal',
  'blue',
  'navy',
  'purple',
  'pink',
  'brown',
] as const;
export type PocketColour = (typeof POCKET_COLOURS)[number];

export interface PocketSlot {
  readonly name: string;
  readonly group: string;
  readonly fromMin: number;
  readonly toMin: number;
  readonly isSighting: boolean;
}

export interface PocketSpot {
  readonly id: SpotId;
  readonly number: number;
  readonly name: string;
}

export type PocketLight =
  | { readonly kind: 'night' }
  /** The person said that the sky is covered: no side is lit. */
  | { readonly kind: 'cloud' }
  /** Nobody said where the spot looks. */
  | { readonly kind: 'not-known' }
  | {
      readonly kind: 'sun';
      readonly from: LightFrom;
      /** Whole degrees above the horizon. */
      readonly altitudeDeg: number;
      /** Low and into the lens from then on. */
      readonly lowFromMin?: number;
    };

/** A stay at one spot. Between two stays one is on the way. */
export interface PocketStay {
  readonly fromMin: number;
  readonly toMin: number;
  readonly spot: SpotId;
  /** How long the way to this spot takes, with packing and setting up; 0: one is there already. */
  readonly wayMin: number;
  /** Which way, where it is not plain. */
  readonly wayWords?: string;
  readonly light: PocketLight;
  /** A sure frame's shutter, as the figure under the 1: 320 is 1/320 s. */
  readonly sure?: number;
  readonly slow?: number;
  /** Whom to look for here, most wanted first, as places in `PocketDay.watch`; at most eight. */
  readonly watch: readonly number[];
  /** Of the group: still to get from here, of how many, and how many of them in no frame. */
  readonly toGet?: { readonly riders: number; readonly of: number; readonly neverSeen: number };
  readonly caution?: string;
}

/** A rider to look for. */
export interface Watched {
  /** `white, white helmet`. */
  readonly words: string;
  /** A second line: `yellow plate on the nose`. */
  readonly more?: string;
  readonly number?: string;
  /** The rider's code in this meeting: `N-k`. */
  readonly code?: string;
  /** Last six hex digits of the minted rider's id (the first are its time): 1 in 1,500 meetings of 150 riders has two alike, and then none is meant. */
  readonly riderTag?: string;
  readonly bike: readonly PocketColour[];
  readonly helmet?: PocketColour;
  /** Usual lap, where it is known. */
  readonly lapMs?: Milliseconds;
  readonly isNeverSeen: boolean;
  /** A small JPEG; the first to be left out. */
  readonly crop?: Uint8Array;
}

export interface PocketDay {
  readonly meeting: string;
  /** Midnight at the circuit, as a clock there would read it. */
  readonly day: WallMs;
  /** Minutes the circuit's clocks are ahead of UTC on this day. */
  readonly eastMin: number;
  /** When the laptop made this. */
  readonly madeMin: number;
  readonly slipRule: SlipRule;
  readonly groups: readonly Group[];
  readonly slots: readonly PocketSlot[];
  readonly spots: readonly PocketSpot[];
  readonly stays: readonly PocketStay[];
  readonly watch: readonly Watched[];
  /** For the whole day: plugs, water, marshals first. */
  readonly cautions: readonly string[];
}

/** What was tapped. `at` is the circuit's wall time by the phone's clock, to the second. */
export type Tap = {
  /** Counts this phone's taps of this day from 1. */
  readonly seq: number;
  readonly at: WallMs;
  /** Taken back on the phone. */
  readonly isUndone: boolean;
} /** `afterStartS`: after its start as the day that was carried along has it. */ & (
  | { readonly kind: 'out'; readonly slot: string; readonly afterStartS: number }
  /** Not before `byMin` after `plannedAt`, where the day that was carried along has its start. */
  | { readonly kind: 'late'; readonly slot: string; readonly byMin: number; readonly plannedAt: WallMs }
  | { readonly kind: 'red-flag' }
  /** The stopped session goes on. */
  | { readonly kind: 'resumed'; readonly stoppedAt: WallMs }
  | { readonly kind: 'got'; readonly spot?: SpotId; readonly riderTag?: string; readonly number?: string }
);

export interface PocketTaps {
  /** Check of the day they belong to: its CRC-32, eight hex digits. */
  readonly dayCheck: string;
  /** Random, eight hex digits: tells two phones apart. */
  readonly phone: string;
  readonly eastMin: number;
  readonly taps: readonly Tap[];
}
