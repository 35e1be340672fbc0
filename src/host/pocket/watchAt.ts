/** Whom to look for at one stay: riders of the groups out then whom no good frame shows from there yet. */
import type { Rider } from '../../core/arrange/types.js';
import type { Morning } from '../../core/cover/lunch/types.js';
import type { SpotId } from '../../core/ids.js';
import type { ColourName } from '../../core/measure/types.js';
import { POCKET_COLOURS, type PocketColour, type PocketStay, type Watched } from '../../core/plan/pocket/index.js';
import type { SheetStay } from '../../core/plan/sheet/types.js';
import { plain } from '../../core/plan/timetable/index.js';
import type { EntryLine } from '../../core/plan/timetable/types.js';
import { entriesOf } from '../day/derive.js';
import type { DayState } from '../day/types.js';

/** As many hex digits of a minted id as go along. */
const TAG_DIGITS = 6;

type WatchState = Pick<DayState, 'timetable' | 'log' | 'coverage' | 'arrangement'>;

/** Looked through once for all stays of a day. */
export interface WatchOfDay {
  readonly state: WatchState;
  readonly morning: Morning;
}

/** Most wanted first: never seen, then who is owed most of the day, then fewest good frames. */
export function watchAt(of: WatchOfDay, stay: SheetStay): readonly Watched[] {
  const owed = new Map(of.morning.watch.map((one) => [one.rider, one]));
  return [
    ...neverSeenAt(of.state, stay).map(unseen),
    ...wantedAt(of, stay).map((rider) => watched(rider, owed.get(rider.key))),
  ];
}

/** Null before any rider is known: nobody could count them. */
export function toGetAt(of: WatchOfDay, stay: SheetStay): NonNullable<PocketStay['toGet']> | null {
  const out = ridersOut(of.state, stay).length;
  if (out === 0) return null;
  const neverSeen = neverSeenAt(of.state, stay).length;
  return { riders: wantedAt(of, stay).length + neverSeen, of: out + neverSeen, neverSeen };
}

/** Riders on the watch of a stay that holds so many. */
export const ridersWatched = (of: WatchOfDay, stay: SheetStay, most: number): readonly Rider[] =>
  wantedAt(of, stay).slice(0, Math.max(0, most - neverSeenAt(of.state, stay).length));

function wantedAt({ state, morning }: WatchOfDay, stay: SheetStay): readonly Rider[] {
  const covered = new Map(state.coverage.riders.map((one) => [one.rider, one]));
  const place = new Map(morning.watch.map(({ rider }, index) => [rider, index]));
  const wanted = ridersOut(state, stay).filter(({ key }) => !isGoodAt(covered.get(key), stay.spot.id));
  const placeOf = ({ key }: Rider) => place.get(key) ?? morning.watch.length;
  const framesOf = ({ key }: Rider) => covered.get(key)?.goodFrames ?? 0;
  return wanted.sort((a, b) => placeOf(a) - placeOf(b) || framesOf(a) - framesOf(b) || (a.code < b.code ? -1 : 1));
}

const isGoodAt = (cover: WatchState['coverage']['riders'][number] | undefined, spot: SpotId): boolean =>
  cover?.wheel.some((arc) => arc.spot === spot && arc.state === 'good') ?? false;

const groupsOf = ({ sessions }: SheetStay): ReadonlySet<string> => new Set(sessions.map(({ group }) => group));

function ridersOut({ arrangement }: WatchState, stay: SheetStay): Rider[] {
  const groups = groupsOf(stay);
  return arrangement.riders.filter(
    ({ group, isInstructor }) => isInstructor !== true && group !== null && groups.has(group),
  );
}

type Entry = NonNullable<WatchState['coverage']['neverSeen']>[number];

/** Entries no picture shows. One whose class is another group of the timetable is not out here. */
function neverSeenAt(state: WatchState, stay: SheetStay): readonly Entry[] {
  const groups = groupsOf(stay);
  const entries = entriesOf(state.log) ?? [];
  const isElsewhere = (entry: EntryLine): boolean => {
    const group = state.timetable?.groups.find(({ key, name }) =>
      [key, name].some((word) => plain(word) === plain(entry.class)),
    );
    return group !== undefined && !groups.has(group.key);
  };
  return (state.coverage.neverSeen ?? []).filter(({ number }) => {
    const same = entries.filter((entry) => entry.number === number);
    return same.length === 0 || !same.every(isElsewhere);
  });
}

const unseen = ({ words, number }: Entry): Watched => ({
  words,
  ...(number === undefined ? {} : { number }),
  bike: [],
  isNeverSeen: true,
});

const watched = (
  { livery, number, code, id, mainColours, helmetColours }: Rider,
  owed: Morning['watch'][number] | undefined,
): Watched => ({
  words: livery,
  ...(owed?.wants === undefined ? {} : { more: `booked: ${owed.wants}` }),
  ...(number === null ? {} : { number }),
  code,
  ...(id === null ? {} : { riderTag: id.replaceAll('-', '').slice(-TAG_DIGITS) }),
  bike: [...new Set(mainColours.flatMap(plainColour))].slice(0, 2),
  ...helmetOf(helmetColours?.[0]?.name),
  ...(owed?.lap === undefined || owed.lap === null ? {} : { lapMs: owed.lap.ms }),
  isNeverSeen: false,
});

/** The phone paints plain colours; that one is fluorescent stands in the words. */
const plainColour = (name: ColourName): readonly PocketColour[] =>
  POCKET_COLOURS.filter((colour) => name === colour || name.endsWith(` ${colour}`));

function helmetOf(name: ColourName | undefined): Pick<Watched, 'helmet'> {
  const [helmet] = name === undefined ? [] : plainColour(name);
  return helmet === undefined ? {} : { helmet };
}
