/**
 * The most that any afternoon could have given, about: the same search as the program's, told how many riders really go by, how
 * many of them can be had at each spot and what was really photographed; only the luck of the afternoon it does not know. A
 * search, so the best there is may be a little better.
 */

import type { SpotId } from '../../../src/core/ids.js';
import type { DayProblem, Stay, Stretch } from '../../../src/core/plan/day/index.js';
import { worthOfPlan } from '../../../src/core/plan/day/worthOfPlan.js';
import { bestOfFewMoves } from '../../../src/core/plan/lunch/fewMoves.js';
import { improve } from '../../../src/core/plan/lunch/improve.js';
import { AFTERNOON_AIM } from '../../../src/core/plan/lunch/index.js';
import type { ShotPass } from './photographs.js';

export interface KnownDay {
  readonly problem: DayProblem;
  readonly before: readonly ShotPass[];
  readonly riders: number;
  readonly shoot: (stretch: Stretch, spot: SpotId, luck: number) => readonly ShotPass[];
}

/** Other afternoons than those that are counted. */
const TRIED_LUCKS = [101, 102, 103];

export async function bestKnowing(day: KnownDay, begins: readonly (readonly Stay[])[]): Promise<readonly Stay[]> {
  const judge = judgeKnowing(day);
  let best: { readonly stays: readonly Stay[]; readonly value: number } | null = null;
  const few = await bestOfFewMoves({ problem: day.problem, judge, pause: async () => false }, begins[0]!);
  for (const begin of [few, ...begins]) {
    if (judge(begin) === null) continue;
    const stays = await improve({ problem: day.problem, judge, pause: async () => false }, begin);
    const value = judge(stays)!;
    if (best === null || value > best.value) best = { stays, value };
  }
  return best?.stays ?? begins[0]!;
}

interface Had {
  readonly spots: Uint32Array;
  readonly frames: Uint16Array;
}

function judgeKnowing({ problem, before, riders, shoot }: KnownDay): (stays: readonly Stay[]) => number | null {
  const stretches = new Map(problem.stretches.map((stretch) => [stretch.name, stretch]));
  const given = new Map<string, readonly (readonly ShotPass[])[]>();
  const givenAt = (name: string, spot: SpotId) => {
    const key = `${name}|${spot}`;
    const lucks = given.get(key) ?? TRIED_LUCKS.map((luck) => shoot(stretches.get(name)!, spot, luck).map(goodOnly));
    given.set(key, lucks);
    return lucks;
  };
  const add = ({ spots, frames }: Had, shots: readonly ShotPass[]): void => {
    for (const shot of shots) {
      if (shot.frames.length === 0) continue;
      frames[shot.rider]! += shot.frames.length;
      spots[shot.rider]! |= 1 << problem.spots.indexOf(shot.spot);
    }
  };
  const start: Had = { spots: new Uint32Array(riders), frames: new Uint16Array(riders) };
  add(start, before.map(goodOnly));
  return (stays) => {
    if (worthOfPlan(problem, stays).kind === 'broken') return null;
    let sum = 0;
    for (const nth of TRIED_LUCKS.keys()) {
      const had: Had = { spots: start.spots.slice(), frames: start.frames.slice() };
      for (const { stretch, spot } of stays) if (spot !== null) add(had, givenAt(stretch, spot)[nth]!);
      for (let rider = 0; rider < riders; rider += 1) sum += setWorth(bitsOf(had.spots[rider]!), had.frames[rider]!);
    }
    return sum / TRIED_LUCKS.length;
  };
}

const goodOnly = (shot: ShotPass): ShotPass => ({ ...shot, frames: shot.frames.filter((isGood) => isGood) });

/** Whoever has enough counts; a step towards it, a little, so that the search finds its way. */
function setWorth(spots: number, frames: number): number {
  const near = Math.min(1, spots / AFTERNOON_AIM.spots) / 2 + Math.min(1, frames / AFTERNOON_AIM.goodFrames) / 2;
  return (near === 1 ? 1 : 0) + near / 5;
}

function bitsOf(mask: number): number {
  let count = 0;
  for (let left = mask; left > 0; left &= left - 1) count += 1;
  return count;
}
