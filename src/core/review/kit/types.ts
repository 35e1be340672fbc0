/** What the kit did in one day, from its own frames. */
import type { BodyKey, FrameId, SpotId } from '../../ids.js';
import type { Box } from '../../measure/types.js';
import type { Trend } from '../../numeric/theilSen.js';
import type { Share } from '../../numeric/wilson.js';

/** A frame that shows what is said. */
export interface EvidenceFrame {
  readonly frameId: FrameId;
  /** Where to look; null: all of it. */
  readonly look: Box | null;
}

/** What every record has: counted or measured, in a sentence, with frames that show it. */
export interface KitRecord {
  readonly kind: 'measurement';
  readonly evidence: readonly EvidenceFrame[];
  readonly sentence: string;
}

/** Frames of one lens, spot, group and shutter: those whose sharpness could be judged. Evidence: some that were soft. */
export interface SharpAtShutter extends KitRecord {
  readonly lens: string | null;
  readonly spot: SpotId | null;
  readonly group: string | null;
  /** The usual third-stop time nearest to it, in seconds. */
  readonly shutterS: number;
  readonly sharp: number;
  readonly frames: number;
  readonly share: Share;
}

/** The slowest shutter that holds, of one lens at one spot; evidence: soft frames of it and of the next slower one. */
export interface HowLow extends KitRecord {
  readonly lens: string | null;
  readonly spot: SpotId | null;
  /** Null: none holds; then the best one is counted. */
  readonly shutterS: number | null;
  readonly sharp: number;
  readonly frames: number;
  readonly share: Share;
}

/** Frames with a bike of which more than a little is burnt out, or lost in the dark. */
export interface EndOfScale extends KitRecord {
  readonly body: BodyKey;
  readonly frames: number;
  readonly affected: number;
  readonly share: Share;
}

/** Where missed focus fell, of one body and lens: passes that are out of focus and not smeared. */
export interface FocusLean extends KitRecord {
  readonly body: BodyKey;
  readonly lens: string | null;
  readonly falls: 'before' | 'behind' | 'either';
  readonly passes: number;
  /** Of them, those whose nearer ground is sharper than in sharp frames of the spot. */
  readonly before: number;
  readonly share: Share;
}

/** Sharpness of far bikes against the hour; its logarithm, each hour. */
export interface ShimmerTrend extends KitRecord {
  readonly far: Trend;
  /** Of near bikes in the same hours, to compare; null: too few. */
  readonly near: Trend | null;
  readonly points: 'to the air' | 'not to the air alone' | 'to air or focus' | 'to nothing';
}

/** How one body's clock runs against another, or against the clock cards it was shown. */
export interface ClockDrift extends KitRecord {
  readonly body: BodyKey;
  /** Null: against clock cards. */
  readonly against: BodyKey | null;
  /** Seconds that it gains each hour; below 0: loses. */
  readonly drift: Trend;
}

export interface KitRecords {
  readonly howLow: readonly HowLow[];
  readonly sharpness: readonly SharpAtShutter[];
  readonly clipped: readonly EndOfScale[];
  readonly blocked: readonly EndOfScale[];
  readonly focus: readonly FocusLean[];
  readonly shimmer: readonly ShimmerTrend[];
  readonly clocks: readonly ClockDrift[];
}

/** A thing of the kit list, as far as it is counted here. */
export interface StockItem {
  readonly kind: string;
  readonly name: string;
  readonly count: number;
  readonly serial?: string;
  readonly capacityGb?: number;
  readonly framesACharge?: number;
}

export interface Stock {
  readonly items: readonly StockItem[];
  /** Sessions that begin later today; null: not known. */
  readonly sessionsToCome: number | null;
}

/** Cards, or one body's batteries: what the day has used and what is left by the person's own list. */
export interface StockLeft extends KitRecord {
  readonly of: 'cards' | BodyKey;
  /** Frames that the rest still takes; null: the list does not say. */
  readonly framesLeft: number | null;
  /** Frames to come at the day's pace so far; null: sessions to come are not known. */
  readonly framesToCome: number | null;
}
