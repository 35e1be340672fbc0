/**
 * Afternoons with one or two changes of spot, as people walk them: to stay and wait where much is to be had, then to go. Step by
 * step no search comes there from a plan that moves every round, because each step between is worse. Rule PL1208.
 */
import type { SpotId } from '../../ids.js';
import { legBetween, minutesOf, type Standing } from '../day/legs.js';
import type { DayProblem, Stay, Stretch } from '../day/types.js';
import { isMeant, startOf } from '../day/worthOfPlan.js';
import type { Improving } from './improve.js';

/** The best of them, one photographer after the other; where none keeps every wish, the plan it began from. */
export async function bestOfFewMoves(
  { problem, judge, pause }: Improving,
  from: readonly Stay[],
): Promise<readonly Stay[]> {
  let best = { stays: from, value: judge(from) ?? Number.NEGATIVE_INFINITY };
  for (let photographer = 0; photographer < problem.photographers; photographer += 1) {
    const others = best.stays.filter((stay) => stay.photographer !== photographer);
    let tried = 0;
    for (const stays of afternoonsOfFewMoves(problem, photographer, others)) {
      if (tried % A_TURN === 0 && (await pause())) return best.stays;
      tried += 1;
      const value = judge(stays);
      if (value !== null && value > best.value) best = { stays, value };
    }
  }
  return best.stays;
}

/** Plans judged before whoever else has work gets a turn. */
const A_TURN = 20;

/** One change after any session, two after whole rounds. Of one photographer; `others` stay as they are. */
function* afternoonsOfFewMoves(
  problem: DayProblem,
  photographer: number,
  others: readonly Stay[],
): Generator<readonly Stay[]> {
  const { spots, stretches } = problem;
  const slots = [...new Set(stretches.map(({ slot }) => slot))];
  const round = new Set(stretches.map(({ group }) => group)).size;
  const walked = (spotIn: (slot: number) => SpotId): readonly Stay[] => [
    ...others,
    ...walkedWith(problem, photographer, (stretch) => spotIn(slots.indexOf(stretch.slot))),
  ];
  for (const first of spots) {
    yield walked(() => first);
    for (const then of spots) {
      if (then === first) continue;
      for (let at = 1; at < slots.length; at += 1) yield walked((slot) => (slot < at ? first : then));
      for (const last of spots)
        if (last !== then) yield walked((slot) => (slot < round ? first : slot < 2 * round ? then : last));
    }
  }
}

/** What cannot be walked is left out, and so are the stretches of a rest when it is due. */
function walkedWith(problem: DayProblem, photographer: number, wanted: (stretch: Stretch) => SpotId): readonly Stay[] {
  const stays: Stay[] = [];
  let here: Standing = startOf(problem, photographer);
  let since = Number.NEGATIVE_INFINITY;
  for (const stretch of problem.stretches) {
    const spot = pinnedIn(problem, stretch) ?? wanted(stretch);
    const [from, to] = [minutesOf(stretch.from), minutesOf(stretch.to)];
    const place = problem.spots.indexOf(spot);
    const leg = isForbidden(problem, stretch, spot) ? null : legBetween(problem, here, { place, atMinute: from });
    if (leg === null) continue;
    const isRested = problem.rest === null || leg.freeMinutes >= problem.rest.leastMinutes;
    const begun = isRested || stays.length === 0 ? from : since;
    if (problem.rest !== null && to - begun > problem.rest.afterMinutes) continue;
    stays.push({ photographer, stretch: stretch.name, spot });
    since = begun;
    here = { place, atMinute: to };
  }
  return stays;
}

function pinnedIn({ wishes }: DayProblem, stretch: Stretch): SpotId | null {
  const pin = wishes.find((wish) => wish.kind === 'pin' && isMeant(wish, stretch));
  return pin?.kind === 'pin' ? pin.spot : null;
}

const isForbidden = ({ wishes }: DayProblem, stretch: Stretch, spot: SpotId): boolean =>
  wishes.some((wish) => wish.kind !== 'pin' && isMeant(wish, stretch) && (wish.kind === 'rest' || wish.spot === spot));
