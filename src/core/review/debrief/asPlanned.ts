/** What the plan said and what happened, session by session: rule RE6. */
import type { Arrangement, Session } from '../../arrange/types.js';
import { stoodAt } from '../../cover/stands.js';
import type { SpotId } from '../../ids.js';
import type { Stay, Stretch } from '../../plan/day/types.js';
import type { Stand, TimetableSlot } from '../../plan/types.js';
import { type Milliseconds, millisecondsOf } from '../../units.js';
import type { Try } from './tries.js';
import type { StayAsHappened } from './types.js';

/** The plan taken, as far as the debrief looks at it. */
export interface PlanTaken {
  readonly stays: readonly Stay[];
  readonly stretches: readonly Stretch[];
  /** As the timetable was before anything slipped. */
  readonly slots: readonly TimetableSlot[];
  /** As it stands at the end of the day. */
  readonly slotsNow: readonly TimetableSlot[];
}

export function asPlanned(
  arrangement: Arrangement,
  stands: readonly Stand[],
  tries: readonly Try[],
  plan: PlanTaken,
): readonly StayAsHappened[] {
  const stood = stoodAt(arrangement, stands, null);
  const slotOf = new Map(plan.stretches.map(({ name, slot }) => [name, slot]));
  const plannedAt = new Map<string, Set<SpotId>>();
  for (const { stretch, spot } of plan.stays) {
    const slot = slotOf.get(stretch);
    if (slot === undefined || spot === null) continue;
    const own = plannedAt.get(slot) ?? new Set();
    plannedAt.set(slot, own.add(spot));
  }
  const rows = arrangement.sessions.flatMap((session): readonly StayAsHappened[] => {
    const planned = [...(plannedAt.get(session.slot ?? '') ?? [])];
    const here = [...new Set(stood.filter((one) => one.session === session.index).map(({ spot }) => spot))];
    if (planned.length === 0 && here.length === 0) return [];
    const hits = tries.filter(({ is, pass }) => is === 'hit' && pass.session === session.index).length;
    return [rowOf(session, planned, here, hits, movedBy(session.slot, plan))];
  });
  const seen = new Set(arrangement.sessions.map(({ slot }) => slot));
  const without = plan.slotsNow.filter(({ name }) => !seen.has(name) && plannedAt.has(name));
  return [...rows, ...without.map((slot) => notGone(slot, [...plannedAt.get(slot.name)!], movedBy(slot.name, plan)))];
}

function movedBy(name: string | null, { slots, slotsNow }: PlanTaken): Milliseconds | null {
  const [before, now] = [slots, slotsNow].map((all) => all.find((slot) => slot.name === name));
  return before === undefined || now === undefined ? null : millisecondsOf(now.start - before.start);
}

function rowOf(
  session: Session,
  planned: readonly SpotId[],
  stood: readonly SpotId[],
  hits: number,
  movedMs: Milliseconds | null,
): StayAsHappened {
  const isMet = planned.every((spot) => stood.includes(spot)) && stood.every((spot) => planned.includes(spot));
  return {
    session: session.name,
    group: session.group,
    planned,
    stood,
    is: planned.length === 0 ? 'not-planned' : stood.length === 0 ? 'not-gone' : isMet ? 'as-planned' : 'elsewhere',
    hits,
    movedMs,
  };
}

/** No frame of it came home, and nobody said to have stood there. */
const notGone = (
  { name, group }: TimetableSlot,
  planned: readonly SpotId[],
  movedMs: Milliseconds | null,
): StayAsHappened => ({
  session: name,
  group,
  planned,
  stood: [],
  is: 'not-gone',
  hits: 0,
  movedMs,
});
