/** What goes to the organiser, from the day as it stands: for terminal and desk alike. */
import type { ChooseInput } from '../../core/choose/index.js';
import { takedownsOf } from '../../core/finish/index.js';
import {
  type CandidatesInput,
  candidatesOf,
  chooseForOrganiser,
  downSince,
  type HandedSet,
  type OrganiserSet,
  type OrganiserView,
  organiserView,
  type SetNames,
  type SetWish,
} from '../../core/handover/organiser/index.js';
import type { SpotId } from '../../core/ids.js';
import type { WallMs } from '../../core/units.js';
import { spotsOf } from '../day/derive.js';
import type { DayState } from '../day/types.js';

type State = Pick<DayState, 'about' | 'log' | 'timetable'>;

export function organiserNames({ about, log, timetable }: State): SetNames {
  const spots = new Map(spotsOf(log, about.spots).map(({ id, name }) => [id as string, name]));
  const groups = new Map((timetable?.groups ?? []).map(({ key, name }) => [key, name]));
  return { groupName: (group) => groups.get(group) ?? group, spotName: (spot) => spots.get(spot) ?? spot };
}

/** What choosing for the organiser is told, beside what choosing is told. */
export const candidatesInput = ({ about, timetable }: State, choosing: ChooseInput): CandidatesInput => ({
  ...choosing,
  timetable,
  boards: new Set((about.organiser?.boards ?? []) as readonly SpotId[]),
});

/** `choosing`: what choosing is told of the same state. */
export function organiserSet(state: State, choosing: ChooseInput, wish: Partial<SetWish>): OrganiserSet {
  const { pictures } = state.about.organiser ?? {};
  const agreed = pictures === undefined ? {} : { pictures };
  return chooseForOrganiser(
    candidatesOf(candidatesInput(state, choosing)),
    { ...agreed, ...wish },
    organiserNames(state),
  );
}

export const organiserDue = (
  { about, timetable }: State,
  handed: readonly HandedSet[],
  clock: WallMs,
): OrganiserView | null => organiserView({ agreed: about.organiser, timetable, handed, clock });

/** Sentences about what went and was taken down since. */
export const handedButDown = (
  { arrangement, log }: Pick<DayState, 'arrangement' | 'log'>,
  handed: readonly HandedSet[],
): readonly string[] => (handed.length === 0 ? [] : downSince(handed, takedownsOf(arrangement, log).frames));
