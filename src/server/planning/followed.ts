/** A plan names sessions, so it follows what slips. What that did to its stays since it was taken, in sentences. */
import type { FoldedLog } from '../../core/log/types.js';
import type { Stay } from '../../core/plan/day/index.js';
import { type SaidOfTimetable, timetableInForce } from '../../core/plan/timetable/index.js';
import type { Spot, Timetable, TimetableSlot } from '../../core/plan/types.js';
import { clockOf, dateOf } from '../views/wallTime.js';

interface Block {
  readonly spot: Spot;
  readonly slots: readonly string[];
}

export function followedSince(log: FoldedLog, runs: Timetable | null, date: string, spots: readonly Spot[]): string[] {
  const at = log.inForce.findLastIndex(({ decision }) => decision.kind === 'plan-taken');
  const taken = log.inForce[at]?.decision;
  if (taken?.kind !== 'plan-taken' || runs === null) return [];
  const was = timetableInForce(saidOfTimetable(log.inForce.slice(0, at)))?.timetable ?? null;
  if (was === null) return [];
  return blocksOf(taken.stays, spots, was).flatMap((block) => changeOf(block, slotsOf(was, date), slotsOf(runs, date)));
}

const saidOfTimetable = (entries: FoldedLog['inForce']): readonly SaidOfTimetable[] =>
  entries.flatMap(({ decision }) =>
    decision.kind === 'timetable' || decision.kind === 'slip' ? [decision as SaidOfTimetable] : [],
  );

const slotsOf = ({ slots }: Timetable, date: string): ReadonlyMap<string, TimetableSlot> =>
  new Map(slots.filter(({ start }) => dateOf(start) === date).map((slot) => [slot.name, slot]));

/** Stays at one spot that follow one another. */
function blocksOf(stays: readonly Stay[], spots: readonly Spot[], { slots }: Timetable): readonly Block[] {
  const slotOf = ({ stretch }: Stay) => slots.find(({ name }) => stretch === name || stretch.startsWith(`${name} `));
  const inOrder = stays
    .flatMap((stay) => {
      const slot = slotOf(stay);
      return slot === undefined ? [] : [{ ...stay, slot }];
    })
    .toSorted((a, b) => a.photographer - b.photographer || a.slot.start - b.slot.start);
  const blocks: { photographer: number; spot: Spot; slots: string[] }[] = [];
  let isBroken = true;
  for (const { photographer, spot, slot } of inOrder) {
    const place = spots.find(({ id }) => id === spot);
    const last = blocks.at(-1);
    if (place === undefined) isBroken = true;
    else if (!isBroken && last?.spot === place && last.photographer === photographer) last.slots.push(slot.name);
    else blocks.push({ photographer, spot: place, slots: [slot.name] });
    if (place !== undefined) isBroken = false;
  }
  return blocks.map(({ spot, slots: names }) => ({ spot, slots: [...new Set(names)] }));
}

function changeOf(
  { spot, slots }: Block,
  was: ReadonlyMap<string, TimetableSlot>,
  is: ReadonlyMap<string, TimetableSlot>,
): readonly string[] {
  const name = `${spot.number} ${spot.name}`;
  const gone = slots.filter((slot) => was.has(slot) && !is.has(slot));
  const [first, last] = [slots.find((slot) => is.has(slot)), slots.findLast((slot) => is.has(slot))];
  const lost = gone.map((slot) => `${name}: ${slot} does not run any more.`);
  if (first === undefined || last === undefined) return lost;
  const [from, to] = [is.get(first)!.start, is.get(last)!.end];
  const [wasFrom, wasTo] = [was.get(first)?.start ?? from, was.get(last)?.end ?? to];
  if (from === wasFrom && to === wasTo) return lost;
  return [...lost, `${name}: ${clockOf(from)} to ${clockOf(to)}, no longer ${clockOf(wasFrom)} to ${clockOf(wasTo)}.`];
}
