/** Who booked, and what cards and taps say of each. Rules OG15–OG19. */
import type { Arrangement, Rider } from '../../../arrange/types.js';
import type { Coverage, CoverageCell } from '../../../cover/types.js';
import type { RiderKey, SpotId } from '../../../ids.js';
import type { Decision, FoldedLog } from '../../../log/types.js';
import { plain } from '../../../plan/timetable/index.js';
import type { EntryLine } from '../../../plan/timetable/types.js';
import type { Timetable } from '../../../plan/types.js';
import type { WallMs } from '../../../units.js';
import { bookedIn } from './booked.js';
import type { CardsSay, ClientLine, ClientProof, ClientSession, ClientsView, GotIt, SeenFrom } from './types.js';

export interface ClientsInput {
  readonly meeting: string;
  readonly arrangement: Arrangement;
  readonly coverage: Pick<Coverage, 'riders'>;
  readonly timetable: Timetable | null;
  readonly log: FoldedLog;
  /** The whole entry list, with what was booked put together with it. */
  readonly entries: readonly EntryLine[];
  readonly spots: ClientsView['spots'];
  /** By the meeting's clocks. */
  readonly asOf: WallMs;
  /** Name of whoever takes the pictures. */
  readonly photographer: string | null;
  /** Null: not known, or not to be said. */
  readonly nameOf: (person: string) => string | null;
}

export function clientsView(input: ClientsInput): ClientsView {
  const { arrangement, entries, meeting, asOf, spots, photographer } = input;
  const walls = arrangement.exposures.flatMap(({ wall }) => wall ?? []);
  const cardsUntil = walls.reduce<WallMs | null>(
    (latest, wall) => (latest === null || wall > latest ? wall : latest),
    null,
  );
  // A clock that stands before the cards is not this meeting's.
  const clock = cardsUntil !== null && cardsUntil > asOf ? cardsUntil : asOf;
  const clients = entries
    .filter(({ wants }) => wants !== undefined)
    .map((entry) => lineOf(entry, cardsUntil, { ...input, asOf: clock }))
    .sort(wantedFirst);
  return { meeting, asOf, cardsUntil, initials: initialsOf(photographer), clients, spots };
}

const wantedFirst = (a: ClientLine, b: ClientLine): number =>
  Number(b.isWanted) - Number(a.isWanted) ||
  a.class.localeCompare(b.class) ||
  a.number.localeCompare(b.number, 'en', { numeric: true });

const initialsOf = (name: string | null): string | null =>
  name === null
    ? null
    : [...name.matchAll(/(?<!\p{L})\p{L}/gu)]
        .map(([letter]) => letter.toUpperCase())
        .join('')
        .slice(0, 3) || null;

function lineOf(entry: EntryLine, cardsUntil: WallMs | null, input: ClientsInput): ClientLine {
  const group = groupOf(entry.class, input.timetable);
  const found = ridersOf(entry, group, input);
  const cells = cellsOf(found.sure, input.coverage);
  const sessions = sessionsOf(entry, group, found, cells, cardsUntil, input);
  const good = sum(cells, ({ goodFrames }) => goodFrames);
  const spots = [...new Set(cells.flatMap(({ spot, goodFrames }) => (spot !== null && goodFrames > 0 ? [spot] : [])))];
  const booked = bookedIn(entry.wants!);
  return {
    event: entry.event,
    class: entry.class,
    number: entry.number,
    name: entry.person === undefined ? null : input.nameOf(entry.person),
    wants: entry.wants!,
    booked,
    sessions,
    good,
    frames: sum(cells, ({ frames }) => frames),
    spots,
    owed: {
      pictures: booked.pictures === null ? null : Math.max(0, booked.pictures - good),
      spots: booked.spots === null ? null : Math.max(0, booked.spots - spots.length),
    },
    isWanted: sessions.some(({ when, cards, got }) => when === 'now' && cards.kind === 'not-seen' && got.length === 0),
    doubts: doubtsOf(entry, group, found, sessions, input),
  };
}

const sum = <T>(all: readonly T[], of: (one: T) => number): number => all.reduce((total, one) => total + of(one), 0);

function groupOf(of: string, timetable: Timetable | null): string | null {
  const wanted = plain(of);
  return timetable?.groups.find(({ key, name }) => wanted === plain(key) || wanted === plain(name))?.key ?? null;
}

interface Found {
  readonly sure: readonly Rider[];
  /** The number was read, but not surely enough to promise anything. */
  readonly perhaps: readonly Rider[];
  readonly by: ClientProof;
}

/** As for whether an entry was seen at all: a false “seen” costs a client. */
const SURE_ENOUGH = 0.8;

function ridersOf(entry: EntryLine, group: string | null, { arrangement }: ClientsInput): Found {
  const carrying = arrangement.riders.filter(
    ({ number, groups }) =>
      number !== null &&
      plain(number) === plain(entry.number) &&
      (group === null || groups.length === 0 || groups.includes(group)),
  );
  const isSure = ({ numberSource }: Rider) =>
    numberSource?.kind !== 'guessed' || numberSource.confidence >= SURE_ENOUGH;
  const sure = carrying.filter(isSure);
  return { sure, perhaps: carrying.filter((rider) => !isSure(rider)), by: proofOf(sure) };
}

/** Of several riders under one number the least sure. */
function proofOf(riders: readonly Rider[]): ClientProof {
  const read = riders.flatMap(({ numberSource }) =>
    numberSource?.kind === 'guessed' ? [numberSource.confidence] : [],
  );
  return read.length === 0 ? { kind: 'said' } : { kind: 'read', confidence: Math.min(...read) };
}

const cellsOf = (riders: readonly Rider[], coverage: Pick<Coverage, 'riders'>): readonly CoverageCell[] => {
  const keys = new Set<RiderKey>(riders.map(({ key }) => key));
  return coverage.riders
    .flatMap(({ rider, cells }) => (keys.has(rider) ? cells : []))
    .filter(({ frames }) => frames > 0);
};

type Slot = Omit<ClientSession, 'cards' | 'got' | 'when'> & { readonly session: number | null };

/** By the timetable; what ran besides and shows the client comes with it. */
function slotsOf(
  group: string | null,
  cells: readonly CoverageCell[],
  { timetable, arrangement }: ClientsInput,
): readonly Slot[] {
  const isOwn = (of: string | null) => group === null || of === group;
  const slots = (timetable?.slots ?? []).filter(({ group: of }) => isOwn(of));
  const sessionOf = (slot: (typeof slots)[number]) =>
    arrangement.sessions.find((one) => one.slot === slot.name && Math.abs(one.start - slot.start) < DAY_APART_MS);
  const planned = slots.map((slot): Slot => {
    const session = sessionOf(slot);
    const [start, end] = [
      Math.min(slot.start, session?.start ?? slot.start),
      Math.max(slot.end, session?.end ?? slot.end),
    ];
    return {
      name: slot.name,
      group: slot.group,
      start: start as WallMs,
      end: end as WallMs,
      session: session?.index ?? null,
    };
  });
  const covered = new Set(planned.map(({ session }) => session));
  const seenIn = new Set(cells.map(({ session }) => session));
  const besides = arrangement.sessions
    .filter(({ index, group: of }) => !covered.has(index) && (seenIn.has(index) || (group !== null && of === group)))
    .map(({ name, group: of, start, end, index }): Slot => ({ name, group: of, start, end, session: index }));
  return [...planned, ...besides].sort((a, b) => a.start - b.start);
}

/** Names of slots come again on another day. */
const DAY_APART_MS = 12 * 3_600_000;

function sessionsOf(
  entry: EntryLine,
  group: string | null,
  found: Found,
  cells: readonly CoverageCell[],
  cardsUntil: WallMs | null,
  input: ClientsInput,
): readonly ClientSession[] {
  const taps = tapsOf(entry, group, found, input);
  const walls = wallsOf(found.sure, input.arrangement);
  return slotsOf(group, cells, input).map(({ session, ...slot }, i, all) => {
    const own = session === null ? [] : cells.filter((cell) => cell.session === session);
    const when = slot.start > input.asOf ? 'to-come' : slot.end > input.asOf ? 'now' : 'over';
    // A tap may come a little after the flag: until the next of their sessions it is of this one.
    const until = Math.min(slot.end + LATE_TAP_MS, all[i + 1]?.start ?? Number.POSITIVE_INFINITY);
    const mine = taps.filter(({ at }) => at >= slot.start && at < Math.max(slot.end, until));
    return {
      ...slot,
      when,
      cards: cardsSay(own, when, slot.start, cardsUntil, found.by),
      got: mine.map((tap) => gotOf(tap, walls, cardsUntil)),
    };
  });
}

const LATE_TAP_MS = 5 * 60_000;

function cardsSay(
  cells: readonly CoverageCell[],
  when: ClientSession['when'],
  start: WallMs,
  cardsUntil: WallMs | null,
  by: ClientProof,
): CardsSay {
  if (cells.length > 0) {
    const from = [...new Set(cells.map(({ spot }) => spot))].map((spot): SeenFrom => {
      const here = cells.filter((cell) => cell.spot === spot);
      return { spot, good: sum(here, ({ goodFrames }) => goodFrames), frames: sum(here, ({ frames }) => frames) };
    });
    return { kind: 'seen', by, good: sum(from, ({ good }) => good), frames: sum(from, ({ frames }) => frames), from };
  }
  if (when === 'to-come') return { kind: 'not-seen', why: 'to-come' };
  return { kind: 'not-seen', why: cardsUntil === null || cardsUntil < start ? 'no-card-yet' : 'not-in-the-cards' };
}

type Got = Extract<Decision, { kind: 'got' }>;

function tapsOf(entry: EntryLine, group: string | null, { sure, perhaps }: Found, input: ClientsInput): readonly Got[] {
  const ids = new Set([...sure, ...perhaps].flatMap(({ id, aliases }) => (id === null ? aliases : [id, ...aliases])));
  return input.log.inForce
    .flatMap(({ decision }) => (decision.kind === 'got' ? [decision] : []))
    .filter((tap) => (tap.rider !== undefined && ids.has(tap.rider)) || isOfNumber(tap, entry, group, input))
    .sort((a, b) => a.at - b.at);
}

/** A number alone is of the class that was out then; where that is not known, of every class that has it. */
function isOfNumber(tap: Got, entry: EntryLine, group: string | null, { timetable }: ClientsInput): boolean {
  if (tap.rider !== undefined || tap.number === undefined || plain(tap.number) !== plain(entry.number)) return false;
  if (tap.class !== undefined)
    return plain(tap.class) === plain(entry.class) || (group !== null && tap.class === group);
  const out = (timetable?.slots ?? []).filter(({ start, end }) => tap.at >= start && tap.at < end + LATE_TAP_MS);
  return group === null || out.length === 0 || out.some((slot) => slot.group === group);
}

const wallsOf = (
  riders: readonly Rider[],
  { passes }: Arrangement,
): readonly { readonly at: number; readonly spot: SpotId | null }[] =>
  riders.flatMap((rider) =>
    rider.passes.flatMap((index) => (passes[index] ? [{ at: passes[index].start, spot: passes[index].spot }] : [])),
  );

/** A thumb is slower than a shutter, and a phone's clock is not a camera's. */
const NEAR_TAP_MS = 2 * 60_000;

function gotOf(tap: Got, walls: ReturnType<typeof wallsOf>, cardsUntil: WallMs | null): GotIt {
  const isShown = walls.some(({ at }) => Math.abs(at - tap.at) <= NEAR_TAP_MS);
  const cards = isShown ? 'shown' : cardsUntil === null || cardsUntil < tap.at ? 'no-card-yet' : 'not-shown';
  return { at: tap.at, spot: tap.spot ?? null, cards };
}

function doubtsOf(
  { class: of, number }: EntryLine,
  group: string | null,
  { sure, perhaps }: Found,
  sessions: readonly ClientSession[],
  { timetable, entries }: ClientsInput,
): readonly string[] {
  const again = entries.filter((one) => plain(one.number) === plain(number));
  const codes = (riders: readonly Rider[]) => riders.map(({ code }) => code).join(', ');
  const readOnly = perhaps.map(({ code, numberSource }) =>
    numberSource?.kind === 'guessed' ? `${code}, ${Math.round(numberSource.confidence * 100)} of 100` : code,
  );
  const unproved = sessions.flatMap(({ got }) => got).filter(({ cards }) => cards === 'not-shown').length;
  return [
    ...(sure.length > 1
      ? [
          `Number ${number} is carried by ${sure.length} riders (${codes(sure)}): all are counted. Say at the desk whether they are one.`,
        ]
      : []),
    ...(perhaps.length > 0
      ? [`Number ${number} may also be ${readOnly.join('; ')}: not counted until somebody says so.`]
      : []),
    ...(group === null && timetable !== null && again.length > 1
      ? [
          `${of === '' ? 'No class was entered' : `“${of}” is no group of the timetable`} and number ${number} is entered ${again.length} times: sessions of all groups are looked at.`,
        ]
      : []),
    ...(unproved > 0
      ? [`${unproved} of the taps ${unproved === 1 ? 'is' : 'are'} shown by no picture, though the card is in.`]
      : []),
  ];
}
