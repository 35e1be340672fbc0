/** The run sheet: the day on one page, as plain data. Paper, screen and calendar draw the same record. */
import type { SpotId } from '../../ids.js';
import type { Degrees, UnitInterval, WallMs } from '../../units.js';
import type { Caution } from '../care/types.js';
import type { Circuit } from '../circuit/types.js';
import type { Stay, Stretch } from '../day/types.js';
import type { SunRow, ThreadRun } from '../light/types.js';
import type { Group, Spot, Stand, TimetableSlot } from '../types.js';

/** Lens and shutters to start from. Shutters are the figure under the 1: 320 is 1/320 s. */
export interface SheetSettings {
  /** For instance `100 mm, side-on`. */
  readonly lens?: string;
  readonly sure?: number;
  readonly slow?: number;
}

/** A way between two places; a null place is the van. */
export interface SheetWay {
  readonly minutes: number;
  readonly by: 'foot' | 'vehicle';
  readonly usesServiceRoad?: boolean;
  /** `by the tunnel`, `over the bridge`; absent where it is plain. */
  readonly words?: string;
}

export type WayAnswer =
  | { readonly kind: 'way'; readonly way: SheetWay }
  /** None that may be used while the track is hot. */
  | { readonly kind: 'no-way' }
  /** Nobody drew or said one. */
  | { readonly kind: 'not-known' };

export type WheelArc = 'good' | 'unsure' | 'missed' | 'to-come';

/** A rider still to get. */
export interface WatchLine {
  /** Null: no group is known. */
  readonly group: string | null;
  /** The livery in words. */
  readonly words: string;
  /** Paint of the bike, then helmet, as `#rrggbb`; words always stand beside. */
  readonly paint: readonly string[];
  readonly number?: string;
  /** Nobody said or read it for certain. */
  readonly isNumberGuessed?: boolean;
  /** `N-k`. */
  readonly code?: string;
  readonly leanDeg?: Degrees;
  /** By spot, in the order of the sheet's spots; empty where there is none. */
  readonly wheel: readonly WheelArc[];
  readonly isNeverSeen: boolean;
  /** What a client booked, in their words. */
  readonly wants?: string;
}

/** Times of the day that no timetable of sessions holds; absent: nobody said. */
export interface DayTimes {
  readonly signOn?: WallMs;
  readonly briefing?: WallMs;
}

export interface Contact {
  readonly label: string;
  /** Absent: a line to write on. */
  readonly value?: string;
}

/** Where one stands: a plan that was taken, or what the person says. A hand-made day is stands. */
export type SheetSource =
  | {
      readonly kind: 'plan';
      readonly stays: readonly Stay[];
      readonly stretches: readonly Stretch[];
      /** Said after the plan was taken: it stands before the plan where both speak of one time. */
      readonly said?: readonly Stand[];
    }
  | { readonly kind: 'stands'; readonly stands: readonly Stand[] };

export interface SheetInput {
  readonly meeting: string;
  /** Midnight at the circuit, as a clock there would read it. */
  readonly day: WallMs;
  readonly zone: string;
  readonly printedAt: WallMs;
  /** Stays that ended before are done: they stay in the day line and leave the table. Absent: the whole day. */
  readonly from?: WallMs;
  readonly groups: readonly Group[];
  /** As the timetable stands now, of this day. */
  readonly slots: readonly TimetableSlot[];
  /** Null: the day has none that anybody said or that shows. */
  readonly lunch: { readonly from: WallMs; readonly to: WallMs } | null;
  readonly spots: readonly Spot[];
  readonly circuit?: Circuit;
  readonly source: SheetSource;
  /** From 0. */
  readonly photographer: number;
  readonly photographers: number;
  wayBetween(from: SpotId | null, to: SpotId | null): WayAnswer;
  /** In a few words, for instance `front, sun low`; null where the sun is not known. */
  lightWords(spot: SpotId, from: WallMs, to: WallMs): string | null;
  /** Null: not reckoned. */
  settings(spot: SpotId, group: string): SheetSettings | null;
  /** By a session's name: why nobody stands at it. Absent, or not in it: nothing is known of why. */
  readonly unseenWhy?: ReadonlyMap<string, string>;
  readonly sunRows: readonly SunRow[];
  readonly watch: readonly WatchLine[];
  readonly cautions: readonly Caution[];
  readonly contacts: readonly Contact[];
  readonly times: DayTimes;
}

export interface SheetGroup extends Group {
  /** 0 lightest, 1 darkest: tints climb with the order of the groups. */
  readonly tone: UnitInterval;
}

export interface SheetSession {
  readonly name: string;
  readonly group: string;
  /** False: only part of it from here. */
  readonly isWhole: boolean;
}

export interface SheetStay {
  readonly kind: 'stay';
  /** When to be there. */
  readonly from: WallMs;
  readonly to: WallMs;
  readonly spot: Spot;
  readonly sessions: readonly SheetSession[];
  readonly light: string | null;
  readonly lens: string | null;
  readonly sure: number | null;
  readonly slow: number | null;
  readonly notes: readonly string[];
  /** What to mind there; said at the first stay only. */
  readonly cautions: readonly string[];
  /** The person's word rather than a plan's. */
  readonly isSaid: boolean;
}

export type SheetRow =
  | SheetStay
  | {
      readonly kind: 'way';
      readonly from: WallMs;
      readonly to: WallMs;
      readonly minutes: number;
      readonly by: 'foot' | 'vehicle';
      readonly words: string;
    }
  /** `at` null: its time is not known. */
  | { readonly kind: 'line'; readonly is: LineIs; readonly at: WallMs | null; readonly words: string };

export type LineIs = 'sign-on' | 'briefing' | 'before' | 'lunch' | 'way' | 'going-by' | 'after';

/** A stretch of the spots' band in the day line. */
export interface SheetStand {
  readonly spot: Spot;
  readonly from: WallMs;
  readonly to: WallMs;
  readonly isDone: boolean;
}

export interface SheetSun {
  readonly spot: Spot;
  readonly viewAzimuthDeg: Degrees | null;
  readonly threads: readonly {
    readonly kind: ThreadRun['kind'];
    readonly points: readonly { readonly at: WallMs; readonly shade: UnitInterval }[];
  }[];
  readonly changes: readonly WallMs[];
  readonly words: readonly { readonly from: WallMs; readonly to: WallMs; readonly word: string }[];
}

export interface SheetMap {
  /** With only the ways that somebody may use. */
  readonly circuit: Circuit;
  /** Of the ways gone between two spots by this sheet; each pair once. */
  readonly minutes: readonly { readonly from: SpotId; readonly to: SpotId; readonly minutes: number }[];
}

export interface StillToGet {
  readonly group: Group | null;
  readonly riders: readonly WatchLine[];
}

export interface RunSheet {
  readonly title: string;
  readonly meeting: string;
  readonly circuit: string | null;
  readonly day: WallMs;
  readonly zone: string;
  readonly printedAt: WallMs;
  readonly groups: readonly SheetGroup[];
  readonly slots: readonly TimetableSlot[];
  readonly stands: readonly SheetStand[];
  readonly sun: readonly SheetSun[];
  readonly rows: readonly SheetRow[];
  readonly stillToGet: readonly StillToGet[];
  readonly neverSeen: readonly WatchLine[];
  readonly wheelSpots: readonly Spot[];
  readonly map: SheetMap | null;
  /** For the foot; the circuit's and the marshals' rules first. */
  readonly cautions: readonly string[];
  readonly contacts: readonly Contact[];
  /** What is missing or does not work out, in sentences. */
  readonly warnings: readonly string[];
}
