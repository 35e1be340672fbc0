/**
 * From photographed clock cards to how far each body's clock is off: proposals, for a person to take. The card's second and the
 * moment of the exposure are both known only so well; that is said beside the offset.
 */
import type { BodyKey, FrameId } from '../../ids.js';
import { subSecondMs } from '../../numeric/wallTime.js';
import { type EpochMs, type Milliseconds, millisecondsOf, type WallMs } from '../../units.js';
import { CLOCK_CARD_SHOWN_MS, type ClockCard } from './clockCard.js';

const SECOND_MS = 1000;

/** A frame in which a clock card was read. */
export interface ClockFrame {
  readonly frameId: FrameId;
  readonly body: BodyKey;
  /** What the camera recorded, with the fraction of a second where it wrote one. */
  readonly recorded: WallMs;
  readonly subSec?: string;
  readonly shutterS?: number;
  readonly card: ClockCard;
}

export interface ClockProposal {
  readonly kind: 'body-clock';
  readonly body: BodyKey;
  /** First frame it holds for, where the clock was mended between two cards; absent: from the beginning. */
  readonly fromFrame?: FrameId;
  /** Added to the recorded time. */
  readonly offsetMs: Milliseconds;
  /** The true offset lies within so much of it. */
  readonly errorMs: Milliseconds;
  /** The cards it comes from. */
  readonly frames: readonly FrameId[];
}

export interface ProposedClocks {
  readonly proposals: readonly ClockProposal[];
  readonly notes: readonly string[];
}

/** @param wallOf an instant as clocks at the circuit read it */
export function proposeClocks(frames: readonly ClockFrame[], wallOf: (instant: EpochMs) => WallMs): ProposedClocks {
  const proposals = together(frames, ({ body }) => body).flatMap(([body, ofBody]) =>
    proposalsOfBody(body, ofBody, wallOf),
  );
  return { proposals, notes: sharedNumbers(frames) };
}

interface Offset {
  readonly frameId: FrameId;
  readonly least: number;
  readonly most: number;
}

/** The card stood for a second, the shutter was open for a while, and a time without a fraction is a second long. */
function offsetOf(frame: ClockFrame, wallOf: (instant: EpochMs) => WallMs): Offset {
  const { recorded, subSec, shutterS = 0, card, frameId } = frame;
  const shown = wallOf(card.shownAt);
  const hasFraction = subSec !== undefined && subSecondMs(subSec) !== 0;
  const least = shown - recorded - (hasFraction ? 0 : SECOND_MS) - shutterS * SECOND_MS;
  const most = shown + CLOCK_CARD_SHOWN_MS - recorded;
  return { frameId, least, most };
}

/** Cards that can all be true of one offset are joined, and it is known the better for each; else the clock was set between. */
function proposalsOfBody(body: BodyKey, frames: readonly ClockFrame[], wallOf: (instant: EpochMs) => WallMs) {
  const inOrder = frames.toSorted((a, b) => a.recorded - b.recorded);
  const joined: { least: number; most: number; frames: FrameId[] }[] = [];
  for (const { frameId, least, most } of inOrder.map((frame) => offsetOf(frame, wallOf))) {
    const last = joined.at(-1);
    if (last === undefined || least > last.most || most < last.least) joined.push({ least, most, frames: [frameId] });
    else {
      last.least = Math.max(last.least, least);
      last.most = Math.min(last.most, most);
      last.frames.push(frameId);
    }
  }
  return joined.map(
    ({ least, most, frames: from }, index): ClockProposal => ({
      kind: 'body-clock',
      body,
      ...(index > 0 && { fromFrame: from[0]! }),
      offsetMs: millisecondsOf(Math.round((least + most) / 2)),
      errorMs: millisecondsOf(Math.ceil((most - least) / 2)),
      frames: from,
    }),
  );
}

/** One number, two bodies: somebody forgot to press the number. The clocks are right all the same, for they hang on the files. */
function sharedNumbers(frames: readonly ClockFrame[]): readonly string[] {
  return together(frames, ({ card }) => card.body).flatMap(([number, shown]) => {
    const bodies = new Set(shown.map(({ body }) => body));
    if (bodies.size < 2) return [];
    return [
      `Expected body ${number} on the clock card for one camera but ${bodies.size} photographed it: ${[...bodies].join(', ')}. Each clock was taken from its own picture; only the number is not used.`,
    ];
  });
}

function together<Item, Key>(
  items: readonly Item[],
  keyOf: (item: Item) => Key,
): readonly (readonly [Key, readonly Item[]])[] {
  const found = new Map<Key, Item[]>();
  for (const item of items) found.set(keyOf(item), [...(found.get(keyOf(item)) ?? []), item]);
  return [...found];
}
