/** From a plan that was taken, or from what the person says, to the stays of one photographer's day. */
import type { SpotId } from '../../ids.js';
import { type WallMs, wallMsOf } from '../../units.js';
import type { Stay, Stretch } from '../day/types.js';
import type { Spot, Stand, TimetableSlot } from '../types.js';
import { areApart, standsByHand } from './hands.js';
import type { SheetInput, SheetSession } from './types.js';
import { clockOf, DAY_MS, listed, MINUTE_MS } from './words.js';

/** To be there before the first bike: bag down, lens on, a look at the light. This program's own choice. */
const SET_UP_MS = 5 * MINUTE_MS;
/** A longer pause at one spot is a pause: lunch, or a rest away from the barrier. */
const PAUSE_MS = 30 * MINUTE_MS;

/** Nobody waits for the last bike of a session when there is a way to go: two minutes of twenty are not missed. */
const WHOLE_FROM = 0.9;

/** What stays hang on. */
export type StaysInput = Pick<SheetInput, 'source' | 'slots' | 'spots' | 'photographer' | 'day'>;

export interface PlainStay {
  readonly spot: Spot;
  /** When to be there, ways not reckoned yet. */
  readonly from: WallMs;
  /** When there is something to photograph. */
  readonly begins: WallMs;
  readonly to: WallMs;
  readonly sessions: readonly SheetSession[];
  readonly isSaid: boolean;
}

export interface FoundStays {
  readonly stays: readonly PlainStay[];
  readonly warnings: readonly string[];
}

export function staysOf(input: StaysInput): FoundStays {
  const { source } = input;
  if (source.kind === 'stands') return fromStands(input, source.stands);
  const said = fromStands(input, source.said ?? []);
  const isFree = ({ from, to }: Stretch): boolean =>
    said.stays.every((stay) => Math.min(to, stay.to) - Math.max(from, stay.from) < MINUTE_MS);
  const planned = fromPlan(input, source.stays, source.stretches, isFree);
  return {
    stays: [...said.stays, ...planned.stays].sort((a, b) => a.begins - b.begins),
    warnings: [...planned.warnings, ...said.warnings],
  };
}

function fromPlan(
  input: StaysInput,
  stays: readonly Stay[],
  stretches: readonly Stretch[],
  isFree: (stretch: Stretch) => boolean,
): FoundStays {
  const own = stays.filter(({ photographer }) => photographer === input.photographer);
  const byName = new Map(stretches.map((stretch) => [stretch.name, stretch]));
  const gone = own.filter(({ stretch, spot }) => spot !== null && !byName.has(stretch)).map(({ stretch }) => stretch);
  const placed = own
    .flatMap(({ stretch, spot }) => {
      const found = byName.get(stretch);
      const isMeant = found !== undefined && isOnDay(input.day, found.from);
      return isMeant ? [{ stretch: found, spot: isFree(found) ? spot : null }] : [];
    })
    .sort((a, b) => a.stretch.from - b.stretch.from);
  const { spots, missing } = knownSpots(
    input,
    placed.map(({ spot }) => spot),
  );
  const runs: { spot: Spot; stretches: Stretch[] }[] = [];
  let isBroken = true;
  for (const { stretch, spot } of placed) {
    const where = spot === null ? undefined : spots.get(spot);
    const last = runs.at(-1);
    const isSame = !isBroken && last?.spot === where && stretch.from - last!.stretches.at(-1)!.to <= PAUSE_MS;
    if (where !== undefined && isSame) last!.stretches.push(stretch);
    else if (where !== undefined) runs.push({ spot: where, stretches: [stretch] });
    isBroken = where === undefined;
  }
  return { stays: runs.map((run) => stayOfRun(run, input.slots)), warnings: [...goneWarning(gone), ...missing] };
}

function stayOfRun(
  { spot, stretches }: { spot: Spot; stretches: readonly Stretch[] },
  slots: readonly TimetableSlot[],
) {
  const begins = stretches[0]!.from;
  const to = wallMsOf(Math.max(...stretches.map((stretch) => stretch.to)));
  const names = [...new Set(stretches.map(({ slot }) => slot))];
  const sessions = names.map((name): SheetSession => {
    const parts = stretches.filter(({ slot }) => slot === name);
    const whole = slots.find((slot) => slot.name === name);
    const isWhole =
      whole === undefined || (parts[0]!.from <= whole.start && Math.max(...parts.map((part) => part.to)) >= whole.end);
    return { name, group: parts[0]!.group, isWhole };
  });
  return { spot, from: wallMsOf(begins - SET_UP_MS), begins, to, sessions, isSaid: false };
}

const goneWarning = (gone: readonly string[]): readonly string[] =>
  gone.length === 0
    ? []
    : [`The plan holds ${listed(gone)}, which the timetable no longer has. Plan again, or say where you stand.`];

function fromStands(input: StaysInput, stands: readonly Stand[]): FoundStays {
  const ofDay = standsByHand(stands, input.day)[input.photographer] ?? [];
  const { spots, missing } = knownSpots(
    input,
    ofDay.map(({ spot }) => spot),
  );
  const known = ofDay.flatMap((stand) => {
    const spot = spots.get(stand.spot);
    return spot === undefined ? [] : [{ ...stand, spot }];
  });
  const clashes = known.flatMap((stand, i) => {
    const before = known.slice(0, i).findLast((one) => areApart(asSaid(one), asSaid(stand)));
    return before === undefined ? [] : [clashWarning(before, stand)];
  });
  const stays = known.map(({ spot, from, to }): PlainStay => {
    const sessions = sessionsWithin(input.slots, from, to);
    const first = input.slots.find(({ name }) => name === sessions[0]?.name);
    return { spot, from, begins: wallMsOf(Math.max(from, first?.start ?? from)), to, sessions, isSaid: true };
  });
  return { stays, warnings: [...missing, ...clashes] };
}

/** A third of a session is worth naming; a stand with less than that of any still says what goes by. */
function sessionsWithin(slots: readonly TimetableSlot[], from: WallMs, to: WallMs): readonly SheetSession[] {
  const parts = slots
    .map((slot) => ({ slot, share: (Math.min(slot.end, to) - Math.max(slot.start, from)) / (slot.end - slot.start) }))
    .filter(({ share }) => share > 0);
  const plenty = parts.filter(({ share }) => share >= 1 / 3);
  return (plenty.length > 0 ? plenty : parts).map(({ slot: { name, group }, share }) => ({
    name,
    group,
    isWhole: share >= WHOLE_FROM,
  }));
}

interface Placed {
  readonly spot: Spot;
  readonly from: WallMs;
  readonly to: WallMs;
}

const asSaid = ({ spot, from, to }: Placed): Stand => ({ spot: spot.id, from, to });

const clashWarning = (a: Placed, b: Placed): string =>
  `You say that you stand at ${a.spot.name} until ${clockOf(a.to)} and at ${b.spot.name} from ${clockOf(b.from)}. Mend one of the two.`;

const isOnDay = (day: WallMs, at: WallMs): boolean => at >= day && at < day + DAY_MS;

function knownSpots(input: StaysInput, ids: readonly (SpotId | null)[]) {
  const spots = new Map(input.spots.map((spot) => [spot.id, spot]));
  const unknown = [...new Set(ids.filter((id) => id !== null && !spots.has(id)))];
  const missing =
    unknown.length === 0
      ? []
      : [`The circuit has no spot ${listed(unknown.map(String))}, though the plan stands there. It was left out.`];
  return { spots, missing };
}
