/** Who is gone through in which order, and what is left of it. */
import type { RiderKey } from '../../core/ids.js';
import type { DayState } from '../../host/day/types.js';
import { type Known, knownOf } from '../views/known.js';
import { choosingOf } from './choosingOf.js';
import type { ChoosingView, MinutesView, RiderInTurn } from './types.js';

export function choosingView(state: DayState): ChoosingView {
  const known = knownOf(state);
  const { keepers, left } = choosingOf(known);
  const { left: open, gone, belowLeast, time } = left();
  const isBelow = new Set(belowLeast);
  const inTurn = (isGone: boolean) => (key: RiderKey) => riderInTurn(known, key, isBelow.has(key), isGone);
  return {
    asOf: state.asOf,
    riders: [...open.flatMap(inTurn(false)), ...gone.flatMap(inTurn(true))],
    rules: keepers.rules,
    time,
    keepers: [...keepers.byRider.values()].reduce((sum, own) => sum + own.length, 0),
    initials: known.initials,
  };
}

function riderInTurn(known: Known, key: RiderKey, isBelowLeast: boolean, isGone: boolean): readonly RiderInTurn[] {
  const rider = known.riderByKey.get(key);
  return rider ? [{ key, code: rider.code, isBelowLeast, isGone }] : [];
}

export const minutesView = (state: DayState, minutes: number): MinutesView => ({
  asOf: state.asOf,
  ...choosingOf(knownOf(state)).minutes(minutes),
});
