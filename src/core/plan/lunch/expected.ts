/**
 * What a rider may be expected to have at the end of the day. Passes in pictures at a spot come at the
 * morning's rates, with more spread than chance alone gives (negative binomial): riders differ, and a session is ridden whole or
 * not at all. Spots are taken as independent; spots with a good frame and good frames are counted up to the aim, exactly.
 */
import type { SpotId } from '../../ids.js';
import type { Aim, OwedRider } from './types.js';

/** Expected passes in pictures, of a rider who is out, by spot. */
export type Passes = ReadonlyMap<SpotId, number>;

export interface Expected {
  /** Of the aim reached. */
  readonly enough: number;
  /** From 0 to 1: how near to the aim, and that there is anything at all. */
  readonly worth: number;
}

/**
 * What a set is worth on its way to the aim; a convention of this program, none of it measured: whoever has enough counts most,
 * nobody is left out without a picture.
 */
const SET_WORTH = { enough: 0.75, spots: 0.09, frames: 0.08, anything: 0.08 } as const;

export interface Rates {
  /** Of a pass that gives any. */
  readonly framesAPass: number;
  /** Size of the negative binomial: how unlike riders come into pictures. */
  readonly spread: number;
}

export function expectedOf(rider: OwedRider, passes: Passes, { framesAPass, spread }: Rates, aim: Aim): Expected {
  let chances = new Map<number, number>([[placeOf(rider, aim), 1]]);
  const width = aim.goodFrames + 1;
  for (const [spot, lambda] of passes) {
    const isNew = (rider.good.get(spot) ?? 0) === 0;
    const counts = countsOf(lambda * rider.often, spread, aim.goodFrames);
    const next = new Map<number, number>();
    for (const [place, chance] of chances) {
      const [spots, frames] = [Math.floor(place / width), place % width];
      for (const [k, own] of counts.entries()) {
        const more = Math.min(aim.spots, spots + (isNew && k > 0 ? 1 : 0));
        const to = more * width + Math.min(aim.goodFrames, frames + Math.round(k * framesAPass));
        next.set(to, (next.get(to) ?? 0) + chance * own);
      }
    }
    chances = next;
  }
  let [enough, worth] = [0, 0];
  for (const [place, chance] of chances) {
    const [spots, frames] = [Math.floor(place / width), place % width];
    const isEnough = spots >= aim.spots && frames >= aim.goodFrames;
    if (isEnough) enough += chance;
    worth +=
      chance *
      ((isEnough ? SET_WORTH.enough : 0) +
        (SET_WORTH.spots * spots) / aim.spots +
        (SET_WORTH.frames * frames) / aim.goodFrames +
        (frames > 0 ? SET_WORTH.anything : 0));
  }
  return { enough, worth };
}

function placeOf({ good }: OwedRider, { spots, goodFrames }: Aim): number {
  const frames = [...good.values()].reduce((sum, count) => sum + count, 0);
  return Math.min(spots, good.size) * (goodFrames + 1) + Math.min(goodFrames, frames);
}

/** Chances of 0, 1, … passes; the last holds all that are more. The variance is the mean and its square ÷ size. */
function countsOf(mean: number, size: number, most: number): number[] {
  const chances: number[] = [];
  const share = mean / (size + mean);
  let [own, left] = [(size / (size + mean)) ** size, 1];
  for (let k = 0; k < most; k += 1) {
    chances.push(own);
    left -= own;
    own *= (share * (k + size)) / (k + 1);
  }
  return [...chances, Math.max(0, left)];
}
