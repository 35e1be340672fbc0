/** Lunch: what the morning gave, whom to look for, what the kit did. Nothing is solved for it. */
import { type Judgements, judgeBikes } from '../../../core/cover/index.js';
import type { Watched } from '../../../core/cover/lunch/types.js';
import { fieldPalette } from '../../../core/cover/palette/index.js';
import { stretchesOfDay } from '../../../core/plan/day/stretchesOfDay.js';
import type { Stay } from '../../../core/plan/day/types.js';
import { kitRecords } from '../../../core/review/kit/index.js';
import type { WallMs } from '../../../core/units.js';
import type { DayState } from '../../day/types.js';
import { sourceOf } from '../sheet/saidOfPlan.js';
import type { SheetDay } from '../sheet/sheetOfDay.js';
import { meetingsOf } from './meetings.js';
import { morningOfDay } from './morningOfDay.js';
import type { LunchView } from './types.js';

/** `from`: what begins later is the afternoon. `judgements`: where the bikes were judged already. */
export function lunchOfDay(
  known: SheetDay,
  state: Pick<DayState, 'pixels' | 'metadata'>,
  from: WallMs,
  judgements: Judgements = judgeBikes(known.state.arrangement, state.pixels),
): LunchView {
  const { arrangement } = known.state;
  const { owed: _, yields: __, ...whole } = morningOfDay(known, from);
  const stretches =
    known.state.timetable === null ? [] : stretchesOfDay({ ...known.state.timetable, slots: known.slots }, true, from);
  const outNoMore = groupsOutNoMore(known, from);
  const morning = { ...whole, watch: thoseWhoComeFirst(whole.watch, outNoMore) };
  return {
    day: known.day,
    from,
    spots: known.spots,
    morning,
    outNoMore,
    palette: fieldPalette(arrangement),
    kit: kitRecords({
      arrangement,
      judgements,
      pixels: state.pixels,
      metadata: state.metadata,
      spotName: (id) => known.spots.find((spot) => spot.id === id)?.name ?? id,
    }),
    cannotPlan: cannotPlan(known, stretches.length),
    meetings: meetingsOf(morning.watch, stretches, takenOf(known) ?? []),
  };
}

/** Groups of the timetable that are neither out at `from` nor go out after it. */
function groupsOutNoMore({ slots }: SheetDay, from: WallMs): readonly string[] {
  const toCome = new Set(slots.filter(({ end }) => end > from).map(({ group }) => group));
  return [...new Set(slots.map(({ group }) => group))].filter((group) => !toCome.has(group));
}

/** Whoever goes out no more cannot be looked for beside the track, and stands behind those who do. */
const thoseWhoComeFirst = (watch: readonly Watched[], outNoMore: readonly string[]): readonly Watched[] => {
  const isOver = ({ group }: Watched) => group !== null && outNoMore.includes(group);
  return [...watch.filter((one) => !isOver(one)), ...watch.filter(isOver)];
};

/** Stays of the plan that was taken for this day; null: none was. */
export function takenOf({ state, day }: SheetDay): readonly Stay[] | null {
  const source = sourceOf(state.log, state.timetable, day);
  return source.kind === 'plan' ? source.stays : null;
}

function cannotPlan({ circuit, slots }: SheetDay, left: number): readonly string[] {
  if (circuit === null) return ['A plan needs the circuit with its spots: draw it, or read it from a file.'];
  if (slots.length === 0) return ['A plan needs the timetable of this day: say it first.'];
  return left === 0 ? ['No session begins after this: there is nothing left to plan today.'] : [];
}
