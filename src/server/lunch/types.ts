/** What the desk tells of the day at lunch. Types only, as beside. */
import type { FrameId, SpotId } from '../../core/ids.js';
import type { Decision } from '../../core/log/types.js';
import type { Circuit } from '../../core/plan/circuit/types.js';
import type { UnitInterval, WallMs } from '../../core/units.js';
import type { GroupKeyView, PictureView, RiderLineView, Spoken, TabColour } from '../types.js';

export interface SpotRef {
  readonly id: SpotId;
  readonly number: number;
  readonly name: string;
}

/** A group's riders by the state of their arc at one spot. */
export interface GroupSpotView {
  readonly spot: SpotRef;
  readonly stood: number;
  readonly good: number;
  readonly unsure: number;
  readonly missed: number;
  readonly toCome: number;
}

export interface GroupLunchView {
  readonly group: GroupKeyView | null;
  readonly riders: number;
  readonly spots: readonly GroupSpotView[];
  readonly thin: readonly RiderLineView[];
  readonly enough: number;
  readonly lap: Spoken | null;
  /** Riders whom the whole morning does not show, as a range; null: nothing can be said. */
  readonly neverShown: Spoken | null;
}

/** Where a plan meets a rider next. */
export interface NextView {
  readonly stretch: string;
  readonly from: WallMs;
  readonly spot: SpotRef;
  readonly isNewSpot: boolean;
}

export interface WatchView {
  readonly rider: RiderLineView;
  readonly group: GroupKeyView | null;
  readonly helmet: TabColour | null;
  readonly why: string;
  readonly missed: readonly SpotRef[];
  readonly lap: Spoken | null;
  /** A session of the group is still to come. */
  readonly isOutAgain: boolean;
  /** By the plan that stands; null: it meets this rider nowhere. */
  readonly next: NextView | null;
  /** By the plan that was found, where there is one. */
  readonly nextFound: NextView | null;
  readonly wants: string | null;
}

export interface PaletteView {
  readonly group: GroupKeyView | null;
  readonly sessions: readonly string[];
  readonly riders: number;
  readonly bikes: readonly PaletteColourView[];
  readonly leathers: readonly PaletteColourView[];
  /** Riders hard to tell apart, each set together. */
  readonly alike: readonly (readonly RiderLineView[])[];
  /** Who else is told in the same words, in sentences. */
  readonly sameWords: readonly string[];
}

export interface PaletteColourView extends TabColour {
  readonly riders: number;
  /** Shares of the group; the range holds the truth in 95 of 100. */
  readonly share: UnitInterval;
  readonly from: UnitInterval;
  readonly to: UnitInterval;
}

export interface DifferenceView {
  readonly kind: 'same' | 'changed' | 'only-found' | 'only-kept';
  readonly photographer: number;
  readonly stretch: string;
  readonly group: GroupKeyView | null;
  readonly from: WallMs;
  readonly to: WallMs;
  readonly kept: SpotRef | null;
  readonly found: SpotRef | null;
  readonly reason: string;
}

/** Riders with enough: now, and as expected at the end of the day. A guess. */
export interface GainView {
  readonly group: GroupKeyView | null;
  readonly riders: number;
  readonly now: number;
  readonly kept: number | null;
  readonly found: number;
}

/** A way from stop to stop; null is the van. */
export interface LegView {
  readonly from: SpotId | null;
  readonly to: SpotId | null;
  readonly minutes: number;
}

/** Where one goes by either plan, on the circuit. */
export interface WaysView {
  readonly circuit: Circuit;
  readonly means: { readonly hasPermit: boolean; readonly hasVehicle: boolean };
  readonly kept: readonly LegView[];
  readonly found: readonly LegView[];
}

/** The afternoon kept and the afternoon found. */
export interface CompareView {
  readonly from: WallMs;
  /** Null: no plan was taken for this afternoon. */
  readonly kept: { readonly isWalkable: boolean; readonly troubles: readonly string[] } | null;
  readonly howSure: string;
  readonly rows: readonly DifferenceView[];
  readonly gains: readonly GainView[];
  readonly remarks: readonly string[];
  readonly cautions: readonly string[];
  readonly photographers: number;
  /** Null: two share the day, and one map would show neither well. */
  readonly ways: WaysView | null;
}

export type PlanningView =
  | { readonly kind: 'idle' }
  /** `seconds` gone of `limitS`; `hasPlan`: stopping now would give one. */
  | { readonly kind: 'running'; readonly seconds: number; readonly limitS: number; readonly hasPlan: boolean }
  /** Nothing can be found, or it failed; in a sentence why. */
  | { readonly kind: 'nothing'; readonly sentence: string }
  /** `isStale`: something was said or came in since. */
  /** `isTaken`: it is the plan that stands. */
  | {
      readonly kind: 'found';
      readonly compare: CompareView;
      readonly take: Extract<Decision, { readonly kind: 'plan-taken' }>;
      readonly isTaken: boolean;
      readonly isStale: boolean;
    };

export interface LunchSheetView {
  readonly asOf: number;
  readonly date: string;
  readonly headline: readonly Spoken[];
  readonly lead: readonly Spoken[];
  readonly spots: readonly SpotRef[];
  readonly groups: readonly GroupLunchView[];
  /** Of an entry list; null: there is none. */
  readonly neverSeen: readonly { readonly number: string | null; readonly words: string }[] | null;
  /** A plan was taken for this day. */
  readonly hasPlan: boolean;
  readonly watch: readonly WatchView[];
  /** Beyond those shown. */
  readonly watchMore: number;
  readonly palette: readonly PaletteView[];
  readonly cannotPlan: readonly string[];
  readonly planning: PlanningView;
}

/** A place on a sensor, in one of the frames that show it. */
export interface DustSpotView {
  readonly sentence: string;
  /** 0–1 across and down the picture as recorded. */
  readonly x: number;
  readonly y: number;
  readonly acrossPx: number;
  /** Clearest first. */
  readonly frames: readonly FrameId[];
}

export interface DustView {
  readonly body: string;
  readonly found:
    | { readonly kind: 'looking' }
    /** Not looked yet, or no answer; in a sentence why. */
    | { readonly kind: 'cannot-tell'; readonly sentence: string }
    | { readonly kind: 'looked'; readonly frames: number; readonly spots: readonly DustSpotView[] };
}

/** Sharp frames of one lens, spot, group and shutter. */
export interface SharpView {
  readonly shutter: string;
  readonly where: string;
  readonly group: GroupKeyView | null;
  readonly sharp: number;
  readonly frames: number;
  readonly share: UnitInterval;
  readonly from: UnitInterval;
  readonly to: UnitInterval;
  /** Some that were soft. */
  readonly evidence: readonly PictureView[];
}

export interface KitPartView {
  readonly title: string;
  readonly rows: readonly { readonly sentence: string; readonly evidence: readonly PictureView[] }[];
}

export interface KitView {
  readonly asOf: number;
  readonly dust: readonly DustView[];
  /** The slowest shutter that holds, of each lens and spot; the table behind it is `sharpness`. */
  readonly howLow: KitPartView;
  readonly sharpness: readonly SharpView[];
  readonly others: readonly KitPartView[];
}
