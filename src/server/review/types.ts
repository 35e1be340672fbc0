/** What the desk tells of what worked. Types only, as in `../types.ts`. */
import type { StayAsHappened } from '../../core/review/debrief/index.js';
import type { UnitInterval } from '../../core/units.js';
import type { GroupKeyView, PictureView, Spoken } from '../types.js';

/** A share with the range that holds in 95 of 100. */
export interface RangeView {
  readonly share: UnitInterval;
  readonly from: UnitInterval;
  readonly to: UnitInterval;
  readonly hits: number;
  readonly bikes: number;
  readonly passes: number;
  /** Of fewer passes than tell anything. */
  readonly isFew: boolean;
}

export interface RateView extends RangeView {
  readonly label: string;
  readonly group: GroupKeyView | null;
  /** `3 soft, 1 cut`; null: none missed. */
  readonly missedWords: string | null;
  /** Some that missed. */
  readonly missed: readonly PictureView[];
}

export interface RatesView {
  readonly title: string;
  readonly rows: readonly RateView[];
  /** Bikes that stand in no row, and why; null: all do. */
  readonly without: string | null;
}

export interface SpotRatesView {
  readonly spot: string;
  readonly rows: readonly RateView[];
}

export interface YieldView {
  readonly spot: string;
  /** `12 keepers of 8 riders in 2 sessions`. */
  readonly words: string;
  /** A person's word where somebody said when they stood there. */
  readonly minutes: Spoken;
  /** Keepers a minute; null: too short to say. */
  readonly aMinute: { readonly rate: number; readonly from: number; readonly to: number } | null;
}

export interface PlannedView {
  readonly session: string;
  readonly group: GroupKeyView | null;
  readonly planned: readonly string[];
  readonly stood: readonly string[];
  readonly went: string;
  readonly is: StayAsHappened['is'];
  readonly hits: number;
  /** `12 min later`; null: as the timetable said, or not known. */
  readonly moved: string | null;
}

/** Change of sharpness in one hour as a factor, with its range. */
interface AnHourView {
  readonly factor: number;
  readonly from: number;
  readonly to: number;
}

export interface ShimmerView {
  readonly sentence: string;
  /** Over which it is drawn: from the first hour with a judged bike to the last. */
  readonly hours: number;
  readonly first: string;
  readonly last: string;
  readonly far: AnHourView;
  readonly near: AnHourView | null;
  readonly evidence: readonly PictureView[];
}

interface ShownView {
  readonly sentence: string;
  readonly evidence: readonly PictureView[];
}

export interface ReviewView {
  readonly asOf: number;
  readonly headline: string;
  readonly lead: string;
  /** What the day shows. */
  readonly shows: readonly string[];
  readonly hasRates: boolean;
  /** Hit rate against shutter, a panel a spot. */
  readonly shutters: readonly SpotRatesView[];
  readonly shuttersWithout: string | null;
  readonly tables: readonly RatesView[];
  readonly byHour: RatesView;
  readonly shimmer: readonly ShimmerView[];
  readonly spots: readonly YieldView[];
  /** Null: no plan was taken. */
  readonly asPlanned: readonly PlannedView[] | null;
  readonly focus: readonly ShownView[];
  readonly howLow: readonly ShownView[];
  /** Neighbouring shutters beside each other. */
  readonly compared: readonly string[];
  /** Whether the rates lie in the meeting's folder now; null: this desk has no folder, or nothing was judged. */
  readonly kept: { readonly is: boolean; readonly sentence: string } | null;
}

/** One way of taking pictures at two meetings. */
export interface BothView {
  readonly label: string;
  readonly group: GroupKeyView | null;
  readonly there: RangeView;
  readonly here: RangeView;
  /** `here 4 to 20 points more`. */
  readonly words: string;
  readonly isApart: boolean;
}

export interface BesideView {
  /** Both by name and days: an organiser's meetings bear one name. */
  readonly there: string;
  readonly here: string;
  readonly sentence: string;
  readonly all: BothView | null;
  readonly tables: readonly { readonly title: string; readonly rows: readonly BothView[] }[];
}
