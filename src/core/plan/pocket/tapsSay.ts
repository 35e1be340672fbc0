/**
 * What was tapped becomes decisions of the log. Each tap is a gesture whose id follows from the phone and the tap, so that the
 * same code scanned twice says nothing twice; what a later tap made untrue, or was taken back on the phone, is withdrawn.
 */
import type { GestureId, RiderId, SpotId } from '../../ids.js';
import { millisecondsOf, type WallMs } from '../../units.js';
import type { Slip } from '../timetable/types.js';
import type { PocketTaps, Tap } from './types.js';

const SECOND_MS = 1000;
const MINUTE_MS = 60_000;
/** A session that goes out within so much of its time is on time. */
const ON_TIME_S = 30;

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

/** @param riderOf the minted rider whose id ends so; undefined where none or several do */
export function whatTapsSay(taps: PocketTaps, riderOf: (riderTag: string) => RiderId | undefined): WhatTapsSay {
  const said: SaidByTap[] = [];
  const notes: string[] = [];
  for (const tap of taps.taps) {
    const gesture = gestureOf(taps, tap, 0);
    const decision = decisionOf(tap, riderOf);
    if (typeof decision === 'string') notes.push(decision);
    else if (tap.isUndone || isOvertaken(tap, taps.taps))
      said.push({ gesture: gestureOf(taps, tap, 1), decision: { kind: 'withdraw', gesture } });
    else if (decision !== null) said.push({ gesture, decision });
  }
  return { said, notes };
}

/** Of several words about one slot's start the last counts, and a red flag whose session went on is said by the going on. */
function isOvertaken(tap: Tap, taps: readonly Tap[]): boolean {
  const later = taps.filter(({ seq, isUndone }) => seq > tap.seq && !isUndone);
  if (tap.kind === 'red-flag') return later.some((one) => one.kind === 'resumed' && one.stoppedAt === tap.at);
  if (tap.kind !== 'out' && tap.kind !== 'late') return false;
  return later.some((one) => (one.kind === 'out' || one.kind === 'late') && one.slot === tap.slot);
}

/** Of a meeting of several days each has its `N3`. */
const dayOf = ({ at }: Tap): string => new Date(at).toISOString().slice(0, 10);

/** Null: nothing but what stood already. */
function decisionOf(tap: Tap, riderOf: (tag: string) => RiderId | undefined): TapDecision | string | null {
  switch (tap.kind) {
    case 'out': {
      if (tap.afterStartS < ON_TIME_S) return null;
      return {
        kind: 'slip',
        slip: { kind: 'late', slot: tap.slot, on: dayOf(tap), byMs: millisecondsOf(tap.afterStartS * SECOND_MS) },
      };
    }
    case 'late':
      return {
        kind: 'slip',
        slip: { kind: 'late', slot: tap.slot, on: dayOf(tap), byMs: millisecondsOf(tap.byMin * MINUTE_MS) },
      };
    case 'red-flag':
      return { kind: 'slip', slip: { kind: 'red-flag', at: tap.at } };
    case 'resumed':
      return { kind: 'slip', slip: { kind: 'red-flag', at: tap.stoppedAt, resumesAt: tap.at } };
    case 'got':
      return gotOf(tap, riderOf);
  }
}

function gotOf(
  tap: Extract<Tap, { kind: 'got' }>,
  riderOf: (tag: string) => RiderId | undefined,
): TapDecision | string {
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
