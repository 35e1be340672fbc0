/** What went otherwise than the timetable said, as the person at the side of the track told it. */
import type { Milliseconds, WallMs } from '../../units.js';
import type { TimetableSlot } from '../types.js';

export type Slip =
  /** The slot started later than it stands. */
  | { readonly kind: 'late'; readonly slot: string; readonly byMs: Milliseconds }
  /** Stopped at `at`; `resumesAt` where the same session goes on. */
  | { readonly kind: 'red-flag'; readonly at: WallMs; readonly resumesAt?: WallMs }
  /** Lunch (the gap that holds `at`) is shorter, or longer below zero. */
  | { readonly kind: 'lunch-shorter'; readonly at: WallMs; readonly byMs: Milliseconds }
  /** A group more, with its sessions where the person put them. */
  | {
      readonly kind: 'group-added';
      readonly group: { readonly key: string; readonly name: string };
      readonly slots: readonly TimetableSlot[];
    }
  /** A slot that will not run. */
  | { readonly kind: 'dropped'; readonly slot: string };

/** One line of an entry list. Names stand in `people/`, never here. */
export interface EntryLine {
  readonly event: string;
  readonly class: string;
  readonly number: string;
  /** Booked before the day: what they want, in their words. */
  readonly wants?: string;
  readonly person?: string;
}
