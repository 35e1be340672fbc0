/**
 * What the desk tells of choosing: who is left to go through, and one rider's set with what it was chosen from.
 * Types only, as in `../types.ts`.
 */
import type { ChooseRules, MinutesPlan, TimeLeft } from '../../core/choose/types.js';
import type { FrameId, RiderKey } from '../../core/ids.js';
import type { BikePoint, Decision } from '../../core/log/types.js';
import type { WallMs } from '../../core/units.js';
import type { GroupKeyView, PassFrameView, RiderLineView } from '../types.js';

/** Names one bike of one frame. */
export interface BikeName {
  readonly frameId: FrameId;
  readonly subject: number;
}

/** A rider in the order they are gone through. */
export interface RiderInTurn {
  readonly key: RiderKey;
  readonly code: string;
  readonly isBelowLeast: boolean;
  readonly isGone: boolean;
}

export interface ChoosingView {
  readonly asOf: number;
  /** Those below the least first, then in the day's order; who was gone through stays in place. */
  readonly riders: readonly RiderInTurn[];
  readonly rules: ChooseRules;
  readonly time: TimeLeft;
  readonly keepers: number;
  readonly initials: string;
}

/** What would stand in a keeper's place were it not there. */
export interface SecondView extends BikeName {
  /** Which, what the set would lose by it, and why. */
  readonly words: string;
}

export interface ToChooseFrameView extends PassFrameView {
  /** `1/320 · 210 mm · f/9`: what is known of it. */
  readonly shot: string;
  /** In a word why it is not good; null where it is, or where more words are needed. */
  readonly blemish: 'cut' | 'soft' | null;
  /** Of a keeper; null: nothing would. */
  readonly second: SecondView | null;
}

export interface ToChoosePassView {
  readonly index: number;
  readonly start: WallMs;
  readonly session: string;
  /** On the day line; null outside every session. */
  readonly sessionIndex: number | null;
  readonly spot: { readonly number: number; readonly name: string } | null;
  /** In order of time. */
  readonly frames: readonly ToChooseFrameView[];
  /** Indices into `frames`, best first. */
  readonly bestFirst: readonly number[];
}

export interface RiderToChooseView {
  readonly asOf: number;
  readonly rider: RiderLineView;
  readonly group: GroupKeyView | null;
  readonly isBelowLeast: boolean;
  /** What the set does not show beside spots, each in a sentence. */
  readonly lacks: readonly string[];
  /** In order of time. */
  readonly passes: readonly ToChoosePassView[];
  /** Names the rider in decisions. */
  readonly point: BikePoint | null;
  readonly initials: string;
}

/** What to look at in so many minutes; the rest stands as proposed. */
export interface MinutesView {
  readonly asOf: number;
  readonly look: readonly RiderKey[];
  readonly asProposed: readonly RiderKey[];
  readonly seconds: number;
  /** `usual`: a convention, till this person answered often enough. */
  readonly pace: MinutesPlan['pace'];
}

/** What to say so that everybody who is left stands as proposed. */
export interface TheRestView {
  readonly asOf: number;
  readonly riders: readonly RiderKey[];
  readonly decisions: readonly Decision[];
}
