/** What the organiser has of the day: a set chosen over all riders, its captions and terms, and when it is due. */
import type { Apart, Source } from '../../arrange/types.js';
import type { FrameId, RiderKey, SpotId } from '../../ids.js';
import type { EpochMs, WallMs } from '../../units.js';

/** `organiser` in `meeting.json`: what was agreed. A firm or club, never a rider. */
export interface OrganiserAgreed {
  readonly name?: string;
  /** How many pictures they were promised. */
  readonly pictures?: number;
  readonly longEdgePx?: number;
  /** Wall time, `YYYY-MM-DDTHH:MM`. */
  readonly due?: string;
  /** After the last flag of the meeting, where no time was agreed. */
  readonly dueMinutesAfterFlag?: number;
  /** Spots from which the sponsors' boards are seen, as a person says. */
  readonly boards?: readonly string[];
  /** They may hand pictures on to their sponsors. */
  readonly mayPassToSponsors?: boolean;
  /** `YYYY-MM-DD`; absent: for as long as they like. */
  readonly mayUseUntil?: string;
  readonly commission?: CommissionAgreed;
}

/** Their part of what riders paid. */
export type CommissionAgreed =
  /** Hundredths of a percent, of what came in after refunds, with tax in it or without. */
  | { readonly kind: 'percent'; readonly basisPoints: number; readonly of: 'gross' | 'net' }
  /** Minor units for the meeting, whatever was sold. */
  | { readonly kind: 'fixed'; readonly amount: number };

/** A race's start, told from the timetable and from how many bikes are in one picture. */
export interface GridGuess {
  readonly slot: string;
  readonly source: Extract<Source, { kind: 'guessed' }>;
}

/** What is seen in a picture, as far as choosing for the organiser asks. */
export interface SetShows {
  /** Of the session, else of the riders in it. */
  readonly group: string | null;
  readonly session: number | null;
  readonly spot: SpotId | null;
  readonly riders: readonly RiderKey[];
  readonly view: string | null;
  readonly shutter: 'sure' | 'slow' | null;
  readonly apart: Apart | null;
  readonly grid: GridGuess | null;
  /** A person said that boards are seen from this spot. */
  readonly hasBoards: boolean;
}

export interface SetCandidate {
  readonly frameId: FrameId;
  /** 0–1, of the best bike in it. */
  readonly quality: number;
  readonly qualityWords: readonly string[];
  /** Nearly the same picture: one pass, or one burst. Only one of them is taken. */
  readonly alike: string;
  readonly shows: SetShows;
  /** Place in the day; breaks ties. */
  readonly order: number;
}

export interface SetWish {
  readonly pictures: number;
  readonly mostPerRider: number;
  /** Share of the set that may be of podium, paddock and portraits. */
  readonly mostApart: number;
  /** Only of these groups; empty: of all. */
  readonly groups: readonly string[];
  readonly only: 'all' | 'podium' | 'boards';
  /** A person's word: in, whatever is proposed, and out. */
  readonly withFrames: readonly FrameId[];
  readonly withoutFrames: readonly FrameId[];
}

export interface SetPicture {
  readonly frameId: FrameId;
  /** From 1, in the day's order: what the contact sheet and the captions say. */
  readonly number: number;
  readonly source: 'proposed' | 'said';
  /** Why this one, the reason that weighed most first. */
  readonly reasons: readonly string[];
  /** What the set gained by it when it was taken. */
  readonly gain: number;
  readonly shows: SetShows;
}

export interface OrganiserSet {
  readonly wish: SetWish;
  /** In the day's order. */
  readonly pictures: readonly SetPicture[];
  /** Fewer than wished, or groups that none shows: in sentences. */
  readonly lacks: readonly string[];
}

/** One picture in words, for the list that goes with the files. */
export interface CaptionLine {
  readonly number: number;
  readonly file: string;
  /** `YYYY-MM-DD` and `HH:MM:SS` on the meeting's clocks; empty where it is not known. */
  readonly date: string;
  readonly time: string;
  readonly session: string;
  readonly class: string;
  readonly spot: string;
  /** `riding`, `grid`, `podium`, `paddock`, … */
  readonly what: string;
  /** As far as a person said them. */
  readonly numbers: string;
  readonly names: string;
  readonly caption: string;
  /** What in this line is a guess and how sure it is; empty: nothing. */
  readonly guesses: string;
}

/** What was handed over, as `made/organiser/handed.json` keeps it. */
export interface HandedSet {
  readonly at: EpochMs;
  /** The same by the meeting's clocks. */
  readonly wall: WallMs;
  readonly is: 'set' | 'choice';
  readonly pictures: readonly { readonly number: number; readonly file: string; readonly frameId: FrameId }[];
}

/** For the meeting's page and `tyrewall show`. */
export interface OrganiserView {
  readonly name: string | null;
  readonly pictures: number;
  readonly due:
    | { readonly kind: 'said'; readonly at: WallMs }
    | { readonly kind: 'after-flag'; readonly at: WallMs; readonly flag: WallMs; readonly slot: string }
    | { readonly kind: 'not-said' };
  readonly handed: { readonly wall: WallMs; readonly pictures: number } | null;
  readonly is: 'in-time' | 'handed-late' | 'handed' | 'to-do' | 'late' | 'not-asked';
  /** Until it is due; less than nothing after it. Null: not due, or nobody knows what time it is there. */
  readonly minutesLeft: number | null;
  readonly boards: readonly SpotId[];
  /** The above in one sentence. */
  readonly sentence: string;
}
