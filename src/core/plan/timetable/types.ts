/** What went otherwise than the timetable said, as the person at the side of the track told it. */
import type { Milliseconds, WallMs } from '../../units.js';
import type { Pause, Timetable, TimetableSlot } from '../types.js';

export type Slip =
  /** The slot started later than it stands, by the slips said before; earlier below zero. `on`: its day, where several have it. */
  | { readonly kind: 'late'; readonly slot: string; readonly on?: string; readonly byMs: Milliseconds }
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
  | { readonly kind: 'dropped'; readonly slot: string; readonly on?: string };

/** One line of an entry list. Names stand in `people/`, never here. */
export interface EntryLine {
  readonly event: string;
  readonly class: string;
  readonly number: string;
  /** Booked before the day: what they want, in their words. */
  readonly wants?: string;
  readonly person?: string;
}

/** What one line of a timetable was taken for. */
export type TimetableLine = { readonly at: number; readonly text: string } & (
  | {
      readonly kind: 'session';
      readonly slot: TimetableSlot;
      readonly groupName: string;
      /** What the line did not say and was filled in, in sentences. */
      readonly guesses: readonly string[];
    }
  | { readonly kind: 'pause'; readonly pause: Pause; readonly guesses: readonly string[] }
  | { readonly kind: 'curfew'; readonly curfew: WallMs }
  | { readonly kind: 'columns'; readonly sentence: string }
  | { readonly kind: 'day'; readonly date: string }
  /** The group of the lines below it. */
  | { readonly kind: 'heading'; readonly group: string }
  /** No track time: a title, a briefing. */
  | { readonly kind: 'left-out'; readonly sentence: string }
  | { readonly kind: 'not-understood'; readonly sentence: string }
);

/** A timetable as it was read, for a person to take or to mend first. */
export interface TimetablePreview {
  readonly lines: readonly TimetableLine[];
  /** Null where no session was read. */
  readonly timetable: Timetable | null;
  /** What does not fit together: sessions that overlap, hours the clocks skip. */
  readonly troubles: readonly string[];
}

/** What one slip did to the timetable as it stood before it. */
export interface SlipEffect {
  readonly slip: Slip;
  readonly changes: readonly SlotChange[];
  /** What moved by how much, what was cut or dropped; never empty. */
  readonly sentences: readonly string[];
}

export type SlotChange = { readonly slot: string; readonly day: string } & (
  | { readonly kind: 'moved'; readonly byMs: Milliseconds; readonly start: WallMs }
  | { readonly kind: 'cut'; readonly byMs: Milliseconds; readonly start: WallMs; readonly end: WallMs }
  | { readonly kind: 'longer'; readonly byMs: Milliseconds; readonly end: WallMs }
  | { readonly kind: 'dropped' }
  | { readonly kind: 'added'; readonly start: WallMs }
);

export interface Slipped {
  readonly timetable: Timetable;
  readonly effects: readonly SlipEffect[];
}

/** A line of an entry list as read: the only place where a name stands beside its number. */
export interface EntryRow extends Omit<EntryLine, 'person'> {
  readonly at: number;
  readonly name?: string;
  readonly contact?: string;
}

export interface EntriesPreview {
  /** One for each key. */
  readonly entries: readonly EntryRow[];
  /** Every line that was read, repeats among them. */
  readonly rows: readonly EntryRow[];
  /** Lines that are no entry, and why. */
  readonly left: readonly { readonly at: number; readonly text: string; readonly sentence: string }[];
  /** Clashes and repeats, in sentences. */
  readonly troubles: readonly string[];
  /** Riders in several classes, in sentences without names. */
  readonly sameRider: readonly string[];
}
