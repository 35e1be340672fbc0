/** The timetable that was said last, as it runs after what was said of it since. */
import type { Timetable } from '../types.js';
import { applySlips } from './applySlips.js';
import type { Slip, SlipEffect, Slipped } from './types.js';

/** Decisions about other things are passed over; the log's entries in force, in their order. */
export type SaidOfTimetable =
  | { readonly kind: 'timetable'; readonly timetable: Timetable }
  | { readonly kind: 'slip'; readonly slip: Slip };

export interface TimetableInForce extends Slipped {
  /** As it was said, before any slip. */
  readonly said: Timetable;
}

/** Null where no timetable was said: a slip alone moves nothing. */
export function timetableInForce(said: readonly SaidOfTimetable[]): TimetableInForce | null {
  const at = said.findLastIndex(({ kind }) => kind === 'timetable');
  const last = said[at];
  if (last?.kind !== 'timetable') return null;
  const slips = said.slice(at + 1).flatMap((decision) => (decision.kind === 'slip' ? [decision.slip] : []));
  return { said: last.timetable, ...applySlips(last.timetable, slips) };
}

/** What one slip more would do. Asked of what was said, not of what runs: only that knows how late the day may go. */
export function slipOn({ said, effects }: Pick<TimetableInForce, 'said' | 'effects'>, slip: Slip): SlipEffect {
  const all = applySlips(said, [...effects.map((effect) => effect.slip), slip]).effects;
  return all.at(-1) ?? { slip, changes: [], sentences: [] };
}
