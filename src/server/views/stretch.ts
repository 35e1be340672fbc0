/** Who went by in a stretch of the day, by group, those in need first. */
import type { Rider } from '../../core/arrange/types.js';
import { wallMsOf } from '../../core/units.js';
import type { DayState } from '../../host/day/types.js';
import { DeskError } from '../DeskError.js';
import type { GroupKeyView, StretchView } from '../types.js';
import { type Known, knownOf, passesOf } from './known.js';
import { riderLineOf } from './riderLine.js';

interface Stretch {
  readonly from: number;
  readonly to: number;
}

const isWithin = ({ from, to }: Stretch, wall: number | null): boolean => wall !== null && wall >= from && wall < to;

function groupIn(known: Known, stretch: Stretch, group: GroupKeyView | null): StretchView['groups'][number] {
  const isOfGroup = (rider: Rider) => (known.groupByKey.get(rider.group ?? '') ?? null) === group;
  const riders = known.state.arrangement.riders.filter(isOfGroup).flatMap((rider) => {
    const passes = passesOf(known, rider).filter((pass) => isWithin(stretch, pass.start)).length;
    return passes === 0 ? [] : [{ rider: riderLineOf(known, rider), passes }];
  });
  return { group, riders: riders.sort((a, b) => a.rider.goodFrames - b.rider.goodFrames) };
}

/** `from` and `to` in wall milliseconds, as the day line has them; the end is not in it. */
export function stretchView(state: DayState, from: number, to: number): StretchView {
  if (!Number.isSafeInteger(from) || !Number.isSafeInteger(to) || to <= from)
    throw new DeskError(
      400,
      'Expected a stretch of the day with its end after its start. Choose it on the day line again.',
    );
  const known = knownOf(state);
  const stretch = { from, to };
  const frames = state.arrangement.exposures.filter((exposure) => isWithin(stretch, exposure.wall));
  const groups = [...known.groups, null].map((group) => groupIn(known, stretch, group));
  return {
    asOf: state.asOf,
    from: wallMsOf(from),
    to: wallMsOf(to),
    frames: frames.length,
    waiting: frames.filter((exposure) => exposure.role === 'unmeasured').length,
    passes: state.arrangement.passes.filter((pass) => isWithin(stretch, pass.start)).length,
    groups: groups.filter((group) => group.riders.length > 0),
  };
}
