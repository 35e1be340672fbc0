/**
 * What was tapped becomes decisions of the log. Each tap is a gesture whose id follows from the phone and the tap, so that the
 * same code scanned twice says nothing twice; what a later tap made untrue, or was taken back on the phone, is withdrawn.
 */
import type { GestureId, RiderId, SpotId } from '../../ids.js';
import type { WallMs } from '../../units.js';
import type { SaidOfTimetable } from '../timetable/index.js';
import type { Slip } from '../timetable/types.js';
import { isOvertaken, slipsOfTaps, type TappedSlip } from './tappedSlips.js';
import type { PocketTaps, Tap } from './types.js';

const MINUTE_MS = 60_000;

/** The lines of the log that taps can become. */
export type TapDecision =
  | { readonly kind: 'slip'; readonly slip: Slip }
  | {
      readonly kind: 'got';
      readonly at: WallMs;
      readonly spot?: SpotId;
      readonly rider?: RiderId;
      readonly number?: string;
    }
  | { readonly kind: 'withdraw'; readonly gesture: GestureId };

export interface SaidByTap {
  readonly gesture: GestureId;
  readonly decision: TapDecision;
}

export interface WhatTapsSay {
  readonly said: readonly SaidByTap[];
  /** Sentences about taps that say nothing the log can hold. */
  readonly notes: readonly string[];
}

/** What the laptop knows already. */
export interface KnownToTaps {
  /** The minted rider whose id ends so; undefined where none or several do. */
  readonly riderOf: (riderTag: string) => RiderId | undefined;
  /** What is said of the timetable and stands, in the log's order. */
  readonly timetable: readonly { readonly gesture: GestureId; readonly decision: SaidOfTimetable }[];
  /** The slip that a gesture said, whether or not it stands; undefined: it was not said. */
  readonly slipSaid: (gesture: GestureId) => Slip | undefined;
}

export function whatTapsSay(taps: PocketTaps, known: KnownToTaps): WhatTapsSay {
  const said: SaidByTap[] = [];
  const notes: string[] = [];
  const isOver = (tap: Tap) => tap.isUndone || isOvertaken(tap, taps.taps);
  const over = new Set(taps.taps.filter(isOver).map((tap) => gestureOf(taps, tap, 0)));
  const slips = slipsOfTaps(
    known.timetable.filter(({ gesture }) => !over.has(gesture)).map(({ decision }) => decision),
    taps.taps,
    (tap) => known.slipSaid(gestureOf(taps, tap, 0)),
  );
  for (const tap of inOrderTold(taps.taps, slips)) {
    const gesture = gestureOf(taps, tap, 0);
    if (isOver(tap)) {
      said.push({ gesture: gestureOf(taps, tap, 1), decision: { kind: 'withdraw', gesture } });
      continue;
    }
    const decision = tap.kind === 'got' ? gotOf(tap, known.riderOf) : slipDecision(slips.get(tap) ?? null);
    if (typeof decision === 'string') notes.push(decision);
    else if (decision !== null) said.push({ gesture, decision });
  }
  return { said, notes };
}

/** What is taken back first, then slips as each was reckoned after the ones before it, then the rest. */
const inOrderTold = (taps: readonly Tap[], slips: ReadonlyMap<Tap, TappedSlip>): readonly Tap[] => {
  const over = taps.filter((tap) => tap.isUndone || isOvertaken(tap, taps));
  const rest = taps.filter((tap) => !over.includes(tap) && !slips.has(tap));
  return [...over, ...slips.keys(), ...rest];
};

const slipDecision = (slip: TappedSlip): TapDecision | string | null => {
  if (slip === null) return null;
  return slip.kind === 'slip' ? { kind: 'slip', slip: slip.slip } : slip.sentence;
};

function gotOf(tap: Extract<Tap, { kind: 'got' }>, riderOf: KnownToTaps['riderOf']): TapDecision | string {
  const rider = tap.riderTag === undefined ? undefined : riderOf(tap.riderTag);
  if (rider === undefined && tap.number === undefined)
    return `Expected a rider of this meeting for “Got” number ${tap.seq}, but ${tap.riderTag === undefined ? 'it names none' : `none is known by ${tap.riderTag}`}. Nothing was said for it; look at the pictures of that time.`;
  return {
    kind: 'got',
    at: tap.at,
    ...(tap.spot !== undefined && { spot: tap.spot }),
    ...(rider !== undefined && { rider }),
    ...(tap.number !== undefined && { number: tap.number }),
  };
}

/** A UUID of version 7 (RFC 9562, section 5.7) whose random bits are the phone's, the tap's count and which of its lines it is. */
function gestureOf({ phone, eastMin }: PocketTaps, { at, seq }: Tap, line: 0 | 1): GestureId {
  const hex = (value: number, digits: number) => value.toString(16).padStart(digits, '0');
  const time = hex(at - eastMin * MINUTE_MS, 12);
  const count = hex(seq % 0x800_000, 6);
  return [
    time.slice(0, 8),
    time.slice(8),
    `7${hex(line, 1)}${count.slice(0, 2)}`,
    `8${count.slice(2, 5)}`,
    `${count.slice(5)}${phone}000`,
  ].join('-') as GestureId;
}
