/** What the desk tells of the plan. Types only, as in `types.ts`; times are wall milliseconds of the meeting's zone. */
import type { GestureId, SpotId } from '../core/ids.js';
import type { Aspect, BikeSide, Circuit, Moment } from '../core/plan/circuit/types.js';
import type { FoundPlan, Stay, Wish } from '../core/plan/day/types.js';
import type { Sky } from '../core/plan/light/types.js';
import type { Practice, Range, Rung, Speed } from '../core/plan/settings/types.js';
import type { SheetRow, SheetStand, SheetSun } from '../core/plan/sheet/types.js';
import type { Degrees, Metres, WallMs } from '../core/units.js';
import type { GroupKeyView } from './types.js';

/** A session, or a part of a long one: what a wish can be of. */
export interface PlanSessionView {
  readonly name: string;
  readonly group: string;
  readonly from: WallMs;
  readonly to: WallMs;
  readonly isSighting: boolean;
}

export interface PlanSpotView {
  readonly id: SpotId;
  readonly number: number;
  readonly name: string;
  readonly needsPermit: boolean;
  readonly hasShade: boolean;
  /** Null where the drawing does not see the track from there. */
  readonly view: {
    readonly azimuthDeg: Degrees;
    readonly aspect: Aspect;
    readonly side: BikeSide | 'both';
    readonly distanceM: Metres;
    readonly moments: readonly Moment[];
  } | null;
}

/** Why one stands there; `spot` null is a stretch on the way or at rest. */
export interface PlanStayView extends Stay {
  readonly slot: string;
  readonly from: WallMs;
  readonly to: WallMs;
  /** Null where nobody reckoned it: no circuit, or what the timetable no longer has. */
  readonly why: string | null;
}

/** One photographer's day. */
export interface PlanSheetView {
  readonly rows: readonly SheetRow[];
  readonly stands: readonly SheetStand[];
  readonly warnings: readonly string[];
  /** Ways gone in this order; the line along which they go where that is drawn. */
  readonly suns: readonly { readonly spot: SpotId; readonly azimuthDeg: Degrees }[];
}

export interface WishView {
  readonly wish: Wish;
  readonly text: string;
}

/** `asked` tells two searches apart. */
export type SolvingView =
  | { readonly kind: 'idle' }
  | {
      readonly kind: 'running';
      readonly seconds: number;
      /** The search ends by itself after so many. */
      readonly limitS: number;
      /** Of the best so far; null: none yet. */
      readonly worth: number | null;
    }
  | {
      readonly kind: 'found';
      readonly plan: FoundPlan;
      readonly seconds: number;
      /** The plan that stands instead and what it is worth by the same reckoning; null: none, or it cannot be walked. */
      readonly standsWorth: number | null;
      /** Timetable, circuit, light or wishes have changed since it was asked for. */
      readonly isOld: boolean;
    }
  | { readonly kind: 'impossible'; readonly sentence: string; readonly isOld: boolean }
  | { readonly kind: 'failed'; readonly sentence: string };

export interface PlanView {
  readonly asOf: number;
  /** `YYYY-MM-DD`. */
  readonly date: string;
  readonly zone: string;
  readonly now: WallMs;
  readonly initials: string;
  readonly headline: string;
  readonly lead: readonly string[];
  /** What is missing before a plan can be made; empty: nothing. */
  readonly missing: readonly string[];
  readonly circuit: Circuit | null;
  /** Which spots no way reaches; null: every one is reached. */
  readonly cutOff: string | null;
  readonly groups: readonly GroupKeyView[];
  readonly sessions: readonly PlanSessionView[];
  readonly spots: readonly PlanSpotView[];
  readonly sun: readonly SheetSun[];
  readonly highSun: { readonly from: WallMs; readonly to: WallMs } | null;
  readonly skies: readonly {
    readonly gesture: GestureId;
    readonly from: WallMs;
    readonly to: WallMs;
    readonly is: Sky;
  }[];
  readonly wishes: readonly WishView[];
  /** Wishes that name what the day does not have. */
  readonly unheard: readonly string[];
  readonly photographers: number;
  readonly hasVehicle: boolean;
  /** Null: nobody said, and nothing that wants one is used. */
  readonly hasPermit: boolean | null;
  /** Only what begins later would be planned. */
  readonly isUnderWay: boolean;
  /** Which plan is drawn: one found and not yet taken, one taken, what the person says, none. */
  readonly shown: 'found' | 'taken' | 'said' | 'none';
  readonly sheets: readonly PlanSheetView[];
  readonly stays: readonly PlanStayView[];
  /** Minutes of sessions that ways and rests cost. */
  readonly lost: readonly { readonly group: GroupKeyView; readonly minutes: number }[];
  readonly cautions: readonly string[];
  /** What slipped since the plan was taken did to it. */
  readonly followed: readonly string[];
  readonly solving: SolvingView;
}

/** Shutters of one spot, group beside group. */
export interface LadderView {
  readonly asOf: number;
  readonly spot: PlanSpotView;
  readonly at: WallMs;
  readonly columns: readonly {
    readonly group: GroupKeyView;
    readonly speed: Speed;
    readonly otherSpeeds: readonly Speed[];
    readonly focalMm: number;
    readonly frameM: number;
    readonly panDegPerS: Range | null;
    /** By a camera that does not follow, at the start. */
    readonly unfollowedBlurPx: Range | null;
    readonly start: string;
    readonly end: string;
    readonly words: readonly string[];
  }[];
  readonly rows: readonly {
    readonly shutter: string;
    readonly cells: readonly (Rung & { readonly group: string })[];
  }[];
  readonly practice: readonly Practice[];
  /** Exposure, depth, shimmer: sentences, the same for all groups. */
  readonly settings: readonly string[];
}

export interface NextBestView {
  readonly sentence: string;
}
