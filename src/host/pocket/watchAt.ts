/** Whom to look for at one stay: riders of the groups out then whom no good frame shows from there yet. */
import type { Rider } from '../../core/arrange/types.js';
import type { SpotId } from '../../core/ids.js';
import type { ColourName } from '../../core/measure/types.js';
import { POCKET_COLOURS, type PocketColour, type PocketStay, type Watched } from '../../core/plan/pocket/index.js';
import type { SheetStay } from '../../core/plan/sheet/types.js';
import { plain } from '../../core/plan/timetable/index.js';
import type { EntryLine } from '../../core/plan/timetable/types.js';
import { entriesOf } from '../day/derive.js';
import type { DayState } from '../day/types.js';

export type WatchState = Pick<DayState, 'about' | 'timetable' | 'log' | 'coverage' | 'arrangement'>;

/** As many hex digits of a minted id as go along. */
const TAG_DIGITS = 6;

interface StillWanted {
  readonly rider: Rider;
  readonly goodFrames: number;
}

/** Most wanted first: never seen, then fewest good frames of the day. */
export function watchAt(state: WatchState, stay: SheetStay): readonly Watched[] {
  return [...neverSeenAt(state, stay).map(unseen), ...wantedAt(state, stay).map(({ rider }) => watched(rider))];
}

/** Null before any rider is known: nobody could count them. */
export function toGetAt(state: WatchState, stay: SheetStay): NonNullable<PocketStay['toGet']> | null {
  const of = ridersOut(state, stay).length;
  if (of === 0) return null;
  const neverSeen = neverSeenAt(state, stay).length;
  return { riders: wantedAt(state, stay).length + neverSeen, of: of + neverSeen, neverSeen };
}

/** Riders on some stay's watch, for minting. */
export const ridersWatched = (state: WatchState, stay: SheetStay, most: number): readonly Rider[] =>
  wantedAt(state, stay)
    .slice(0, Math.max(0, most - neverSeenAt(state, stay).length))
    .map(({ rider }) => rider);

function wantedAt(state: WatchState, stay: SheetStay): readonly StillWanted[] {
  const covered = new Map(state.coverage.riders.map((one) => [one.rider, one]));
  return ridersOut(state, stay)
    .map((rider) => ({ rider, cover: covered.get(rider.key) }))
    .filter(({ cover }) => !isGoodAt(cover, stay.spot.id))
    .map(({ rider, cover }) => ({ rider, goodFrames: cover?.goodFrames ?? 0 }))
    .sort((a, b) => a.goodFrames - b.goodFrames || (a.rider.code < b.rider.code ? -1 : 1));
}

const isGoodAt = (cover: WatchState['coverage']['riders'][number] | undefined, spot: SpotId): boolean =>
  cover?.wheel.some((arc) => arc.spot === spot && arc.state === 'good') ?? false;

const groupsOf = ({ sessions }: SheetStay): ReadonlySet<string> => new Set(sessions.map(({ group }) => group));

function ridersOut({ arrangement }: WatchState, stay: SheetStay): readonly Rider[] {
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

const watched = ({ livery, number, code, id, mainColours, helmetColours }: Rider): Watched => ({
  words: livery,
  ...(number === null ? {} : { number }),
  code,
  ...(id === null ? {} : { riderTag: id.replaceAll('-', '').slice(-TAG_DIGITS) }),
  bike: [...new Set(mainColours.flatMap(plainColour))].slice(0, 2),
  ...helmetOf(helmetColours?.[0]?.name),
  isNeverSeen: false,
});

/** The phone paints plain colours; that one is fluorescent stands in the words. */
const plainColour = (name: ColourName): readonly PocketColour[] =>
  POCKET_COLOURS.filter((colour) => name === colour || name.endsWith(` ${colour}`));

function helmetOf(name: ColourName | undefined): Pick<Watched, 'helmet'> {
  const [helmet] = name === undefined ? [] : plainColour(name);
  return helmet === undefined ? {} : { helmet };
}
