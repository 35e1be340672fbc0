/** The debrief of a whole meeting as it stands, with what its file is to say. */
import { type Judgements, judgeBikes, standsOf } from '../../core/cover/index.js';
import type { SpotId } from '../../core/ids.js';
import { DAY_MS } from '../../core/plan/sheet/words.js';
import { type Debrief, debrief } from '../../core/review/debrief/index.js';
import { wallMsOf } from '../../core/units.js';
import { inForceOf, spotsOf } from '../day/derive.js';
import type { DayState } from '../day/types.js';
import type { MeetingAbout } from '../meeting/types.js';
import { sourceOf } from '../plan/sheet/saidOfPlan.js';

/** A debrief with the names its sentences and tables use. */
export interface DebriefOfDay {
  readonly meeting: Pick<MeetingAbout, 'id' | 'name' | 'firstDay' | 'lastDay'>;
  readonly spotNames: ReadonlyMap<SpotId, string>;
  readonly debrief: Debrief;
}

type State = Pick<DayState, 'about' | 'log' | 'arrangement' | 'pixels' | 'metadata' | 'keepers' | 'timetable'>;

/** `judgements`: where the bikes were judged already. */
export function debriefOfDay(state: State, judgements?: Judgements): DebriefOfDay {
  const { about, log, arrangement, pixels, metadata, keepers } = state;
  const names = namesOf(state);
  return {
    meeting: { id: about.id, name: about.name, firstDay: about.firstDay, lastDay: about.lastDay },
    spotNames: names,
    debrief: debrief({
      arrangement,
      judgements: judgements ?? judgeBikes(arrangement, pixels),
      pixels,
      metadata,
      spotName: (spot) => names.get(spot) ?? spot,
      stands: standsOf(log),
      keepers,
      slots: state.timetable?.slots ?? [],
      plan: planOf(state),
    }),
  };
}

const namesOf = ({ log, about }: State): ReadonlyMap<SpotId, string> =>
  new Map(spotsOf(log, about.spots).map(({ id, name }) => [id as SpotId, name]));

/** The plan taken last for each day of the meeting; null: none was taken. */
function planOf({ log, timetable }: State): Parameters<typeof debrief>[0]['plan'] {
  const inForce = inForceOf(log);
  if (timetable === null || inForce === null) return null;
  const days = [...new Set(timetable.slots.map(({ start }) => Math.floor(start / DAY_MS) * DAY_MS))].map(wallMsOf);
  const sources = days.map((day) => sourceOf(log, timetable, day));
  const plans = sources.flatMap((source) => (source.kind === 'plan' ? [source] : []));
  if (plans.length === 0) return null;
  return {
    stays: plans.flatMap(({ stays }) => stays),
    stretches: plans[0]!.stretches,
    slots: inForce.said.slots,
    slotsNow: timetable.slots,
  };
}
