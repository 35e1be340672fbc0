/** What of the log the run sheet is made from, of one day. */
import { standsOf } from '../../../core/cover/index.js';
import type { Decision, DecisionKind, FoldedLog } from '../../../core/log/types.js';
import { stretchesByName } from '../../../core/plan/day/stretchesOfDay.js';
import { standsByHand } from '../../../core/plan/sheet/hands.js';
import type { SheetSource } from '../../../core/plan/sheet/types.js';
import { DAY_MS } from '../../../core/plan/sheet/words.js';
import type { Timetable } from '../../../core/plan/types.js';
import type { WallMs } from '../../../core/units.js';

export function lastSaid<K extends DecisionKind>(log: FoldedLog, kind: K): Extract<Decision, { kind: K }> | undefined {
  return log.inForce.findLast(({ decision }) => decision.kind === kind)?.decision as
    | Extract<Decision, { kind: K }>
    | undefined;
}

/** The plan taken, where it stands anywhere on this day, and what was said since; else what the person says. */
export function sourceOf(log: FoldedLog, timetable: Timetable | null, day: WallMs): SheetSource {
  const stretches = timetable === null ? [] : stretchesByName(timetable.slots);
  const today = new Set(stretches.filter(({ from }) => from >= day && from < day + DAY_MS).map(({ name }) => name));
  const place = log.inForce.findLastIndex(
    ({ decision }) => decision.kind === 'plan-taken' && decision.stays.some(({ stretch }) => today.has(stretch)),
  );
  const taken = log.inForce[place]?.decision;
  if (taken?.kind !== 'plan-taken') return { kind: 'stands', stands: standsOf(log) };
  const since = log.inForce.slice(place + 1);
  const said = since.flatMap(({ decision }) => (decision.kind === 'stood-at' ? [decision] : []));
  return { kind: 'plan', stays: taken.stays, stretches, said };
}

/**
 * Who shares the day: as many as the wishes say, or as stand at once at two spots by what was said of the bodies since. Rule PL602.
 */
export function photographersOf(log: FoldedLog, day: WallMs): number {
  const place = log.inForce.findLastIndex(
    ({ decision }) => decision.kind === 'wishes' && decision.photographers !== undefined,
  );
  const said = log.inForce[place]?.decision;
  const wished = said?.kind === 'wishes' ? (said.photographers ?? 1) : 1;
  const before = { ...log, inForce: log.inForce.slice(0, Math.max(0, place)) };
  const [hands, handsBefore] = [log, before].map((part) => standsByHand(standsOf(part), day).length);
  return hands! > handsBefore! ? Math.max(wished, hands!) : wished;
}

export const skiesOf = (log: FoldedLog) =>
  log.inForce.flatMap(({ decision }) => (decision.kind === 'sky' ? [decision] : []));

export const speedsOf = (log: FoldedLog) =>
  log.inForce.flatMap(({ decision }) => (decision.kind === 'speed-at' ? [decision] : []));
