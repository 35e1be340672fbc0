/**
 * What the desk's server tells the screen: JSON views, each stamped `asOf`. Types only, so that the screen can import
 * them without the server. Times are zoneless wall milliseconds of the meeting's zone, as in core.
 */
import type { BodyKey, FileId, FrameId, GestureId, PersonId, RiderId, RiderKey, SpotId } from '../core/ids.js';
import type { BikePoint, Decision } from '../core/log/types.js';
import type { Box, ColourName } from '../core/measure/types.js';
import type { BeforePage } from '../core/office/types.js';
import type { CareOfDay } from '../core/plan/care/types.js';
import type { Slip } from '../core/plan/timetable/types.js';
import type { SlipRule, Timetable } from '../core/plan/types.js';
import type { Milliseconds, UnitInterval, WallMs } from '../core/units.js';

/** A measurement is printed, a guess pencilled, a person's word initialled. */
export type Spoken =
  | { readonly voice: 'printed'; readonly text: string }
  | {
      readonly voice: 'pencilled';
      readonly text: string;
      readonly confidence: UnitInterval;
      readonly reasons: readonly string[];
    }
  | { readonly voice: 'initialled'; readonly text: string; readonly initials: string };

/** A picture of one bike, cropped on the screen: a box in upright 0–1 coordinates, width ÷ height of the image. */
export interface PictureView {
  readonly frameId: FrameId;
  readonly box: Box | null;
  readonly aspect: number;
  /** The frame shows another bike too, so the one that is meant is marked. Absent: no. */
  readonly isShared?: true;
}

/** A colour with its name and a CSS colour for the tab; the name always stands beside it. */
export interface TabColour {
  readonly name: ColourName;
  readonly css: string;
}

export interface LiveryView {
  readonly words: string;
  readonly bike: readonly TabColour[];
  readonly rider: readonly TabColour[];
}

/** One arc of a wheel. `isGuess`: half as thick; `isSaid`: a spoke inwards. */
export interface ArcView {
  readonly spot: SpotId;
  readonly number: number;
  readonly name: string;
  readonly state: 'good' | 'unsure' | 'missed' | 'to-come';
  readonly isGuess: boolean;
  readonly isSaid: boolean;
}

export interface RiderLineView {
  readonly key: RiderKey;
  /** `N-k`: never a figure that could be taken for a race number. */
  readonly code: string;
  readonly livery: LiveryView;
  readonly number: Spoken | null;
  readonly wheel: readonly ArcView[];
  readonly goodFrames: number;
  readonly frames: number;
  readonly isThin: boolean;
  readonly face: PictureView;
  /** Rides with every group; left out of counts. Absent: no. */
  readonly isInstructor?: true;
  /** Riders on bikes that look the same. Absent: none. */
  readonly alike?: number;
}

/** A rider as the sheet of all riders looks for one. */
export interface FoundRiderView {
  readonly rider: RiderLineView;
  readonly group: GroupKeyView | null;
  /** Of the bike, and of what is worn: leathers before the helmet, most of it first. */
  readonly bikeColours: readonly ColourName[];
  readonly riderColours: readonly ColourName[];
  readonly passedAt: readonly WallMs[];
}

export interface ColourChoiceView extends TabColour {
  /** What an eye may take for it: at most two. */
  readonly neighbours: readonly ColourName[];
  readonly onBikes: number;
  readonly onRiders: number;
}

/** A pass that is in nobody's set until somebody says whose it is. */
export interface UnplacedPassView {
  readonly frameId: FrameId;
  readonly subject: number;
  readonly picture: PictureView;
  readonly start: WallMs;
  readonly where: string;
  readonly frames: number;
  readonly why: string | null;
}

export interface RidersView {
  readonly asOf: number;
  readonly riders: readonly FoundRiderView[];
  readonly colours: readonly ColourChoiceView[];
  readonly unplaced: readonly UnplacedPassView[];
}

/** How a rider fits one pass. */
export interface LikenessView {
  /** An order for the eye, not a chance. */
  readonly alike: UnitInterval;
  readonly reasons: readonly string[];
  readonly standing: StandingView;
}

/** What the arrangement says of a rider and a pass, with its chance; `other` where it says nothing. */
export type StandingView =
  | { readonly kind: 'said' }
  /** The pass is in this rider's set. */
  | { readonly kind: 'placed'; readonly chance: UnitInterval | null }
  /** It would be, were the program sure enough. */
  | { readonly kind: 'guessed'; readonly chance: UnitInterval | null }
  /** The likeliest other. */
  | { readonly kind: 'near' }
  | { readonly kind: 'other' };

export interface LikelyRiderView extends LikenessView {
  readonly key: RiderKey;
  /** Names the rider in decisions. */
  readonly point: BikePoint | null;
}

/** One bike of one frame, and who it may be. */
export interface LikeliestView {
  readonly asOf: number;
  readonly picture: PictureView;
  readonly name: string;
  readonly subject: number;
  readonly point: BikePoint | null;
  readonly wall: WallMs | null;
  readonly where: string;
  readonly isUnplaced: boolean;
  /** Other bikes of this frame. */
  readonly besides: readonly { readonly subject: number; readonly picture: PictureView }[];
  readonly riders: readonly LikelyRiderView[];
  readonly initials: string;
}

export interface GroupKeyView {
  readonly key: string;
  readonly name: string;
  /** 0 is the lightest tint. Tints climb in the timetable's order of groups. */
  readonly tint: 0 | 1 | 2 | 3;
}

export interface GroupView {
  /** Null for riders of whom the group is not known. */
  readonly group: GroupKeyView | null;
  readonly riders: number;
  /** Per spot of the meeting: riders with a good frame there, or null while it is still to come. */
  readonly goodAt: readonly {
    readonly number: number;
    readonly name: string;
    readonly riders: number | null;
    readonly isLowest: boolean;
  }[];
  readonly thin: readonly RiderLineView[];
  readonly wellEnough: number;
}

export interface CopyView {
  readonly disk: string;
  /** Shares of all bytes, 0–1. Read back is never more than written. */
  readonly written: number;
  readonly readBack: number;
}

export interface CardView {
  readonly id: string;
  /** The path it was brought in from while this desk is open; absent for cards of earlier days. */
  readonly source?: string;
  readonly name: string;
  readonly files: number;
  readonly state: 'listing' | 'copying' | 'finished' | 'stopped' | 'earlier';
  /** `format` only where the host says the card may be formatted. */
  readonly verdict: 'keep' | 'format' | 'not asked';
  readonly sentence: string;
  readonly missing: readonly string[];
  readonly troubles: readonly string[];
  /** Worth knowing, though nothing is wrong. */
  readonly notes: readonly string[];
  readonly copies: readonly CopyView[];
  readonly secondsLeft: number | null;
}

export interface LineSessionView {
  /** Null for a slot of the timetable that no frame shows yet. */
  readonly index: number | null;
  readonly name: string;
  readonly group: string | null;
  readonly tint: 0 | 1 | 2 | 3 | null;
  readonly start: WallMs;
  readonly end: WallMs;
  readonly frames: number;
  readonly edge: Spoken['voice'];
  /** Where it was perhaps held: a guess. */
  readonly held: { readonly from: WallMs; readonly to: WallMs } | null;
}

export interface DayLineView {
  /** Every day of the meeting, `YYYY-MM-DD`. */
  readonly dates: readonly string[];
  /** `YYYY-MM-DD`: the day that is drawn. */
  readonly date: string;
  readonly from: WallMs;
  readonly to: WallMs;
  /** Frames in each minute from `from`: measured, and copied but not yet measured. */
  readonly measured: readonly number[];
  readonly waiting: readonly number[];
  readonly dividers: readonly WallMs[];
  readonly sessions: readonly LineSessionView[];
  /** Stretches with the spots stood at: several where two bodies stood apart. They never overlap. */
  readonly stands: readonly {
    readonly spots: readonly { readonly number: number; readonly name: string }[];
    readonly from: WallMs;
    readonly to: WallMs;
    /** By the plan that was taken, where nobody said otherwise. */
    readonly isPlanned?: true;
  }[];
  /** Null: the timetable has none. */
  readonly lunch: { readonly from: WallMs; readonly to: WallMs } | null;
}

export interface AboutView {
  readonly name: string;
  readonly circuit: string | null;
  readonly firstDay: string;
  readonly lastDay: string;
  readonly zone: string;
  readonly spots: readonly { readonly id: SpotId; readonly number: number; readonly name: string }[];
}

export interface DayView {
  readonly asOf: number;
  readonly about: AboutView;
  /** Now on the meeting's clock; the screen steps it each minute. */
  readonly now: WallMs;
  readonly line: DayLineView;
  readonly groupKeys: readonly GroupKeyView[];
  readonly headline: readonly Spoken[];
  readonly lead: readonly Spoken[];
  /** What went wrong, verdict first; red on the screen. */
  readonly urgent: readonly string[];
  readonly cards: readonly CardView[];
  /** Frames of no day of the meeting, without a time, or that could not be measured: which, why, and what to do. */
  readonly leftOut: readonly string[];
  readonly groups: readonly GroupView[];
  readonly neverSeen: readonly { readonly number: string | null; readonly words: string }[] | null;
  readonly counts: {
    readonly frames: number;
    readonly measured: number;
    readonly unmeasurable: number;
    readonly riders: number;
    readonly thin: number;
    readonly sessions: number;
    readonly questions: number;
    readonly keepers: number;
    readonly decisions: number;
  };
  readonly thinBelowGoodFrames: number;
  readonly measuring: { readonly left: number; readonly secondsLeft: number | null };
  readonly has: { readonly timetable: boolean; readonly spots: boolean; readonly stands: boolean };
  readonly questions: readonly { readonly id: string; readonly sentence: string; readonly worth: number }[];
  /** What happened that needs no answer, newest last; `at` is when this desk heard of it, null where it was there before. */
  readonly notices: readonly { readonly sentence: string; readonly at: WallMs | null }[];
  readonly arrangedInMs: number;
}

export interface CardsView {
  readonly asOf: number;
  readonly cards: readonly CardView[];
  readonly urgent: readonly string[];
}

export interface GroupRidersView {
  readonly asOf: number;
  readonly riders: readonly RiderLineView[];
}

/** A stretch of the day dragged out on the day line. */
export interface StretchView {
  readonly asOf: number;
  readonly from: WallMs;
  readonly to: WallMs;
  readonly frames: number;
  /** Of the frames, those copied and not yet measured. */
  readonly waiting: number;
  readonly passes: number;
  readonly groups: readonly {
    readonly group: GroupKeyView | null;
    /** Fewest good frames of the whole day first. */
    readonly riders: readonly { readonly rider: RiderLineView; readonly passes: number }[];
  }[];
}

/** One bike in one frame, as a pass shows it. */
export interface PassFrameView {
  readonly frameId: FrameId;
  /** Which bike of the frame; −1 where only a person saw it. */
  readonly subject: number;
  readonly file: FileId;
  readonly name: string;
  readonly wall: WallMs | null;
  readonly body: BodyKey;
  readonly picture: PictureView;
  /** Where the bike is, for decisions. */
  readonly point: BikePoint;
  readonly isGood: boolean;
  /** Why it is good, or is not. */
  readonly why: string | null;
  readonly isSlow: boolean;
  readonly shutter: string | null;
  readonly kept: 'proposed' | 'kept-by-person' | 'left-out' | null;
  /** Why it is proposed; empty otherwise. */
  readonly keptWhy: readonly string[];
  /** By a person's word in no gallery, for good. */
  readonly isBarred: boolean;
}

export interface PassView {
  readonly index: number;
  readonly start: WallMs;
  readonly spot: { readonly number: number; readonly name: string } | null;
  readonly frames: readonly PassFrameView[];
  /** Index into `frames` of the one to show. */
  readonly best: number;
  /** Since the pass before in the same session. */
  readonly laterMs: Milliseconds | null;
  /** Said by a person to be this rider. */
  readonly isSaid: boolean;
  /** How sure the program is that the pass is its rider's, and why; null where it does not say. */
  readonly guess: Extract<Spoken, { voice: 'pencilled' }> | null;
}

export interface RiderView {
  readonly asOf: number;
  readonly rider: RiderLineView;
  readonly group: GroupKeyView | null;
  readonly sentence: string;
  readonly oneRider: Spoken;
  readonly keepers: number;
  readonly passes: number;
  readonly sessions: readonly {
    readonly index: number;
    readonly name: string;
    readonly spots: readonly { readonly number: number; readonly name: string }[];
    readonly passes: readonly PassView[];
  }[];
  /** Sessions of the rider's group in which no pass was found. */
  readonly without: readonly { readonly index: number; readonly name: string }[];
  /** Names the rider in decisions: bikes that surely are this one, best first. */
  readonly anchors: readonly BikePoint[];
  /** Riders that this one might be joined with, most alike first. */
  readonly nearest: readonly {
    readonly rider: RiderLineView;
    readonly group: GroupKeyView | null;
    readonly anchor: BikePoint;
  }[];
  /** On bikes that look the same: told apart by little. */
  readonly alike: readonly RiderLineView[];
  /** In nobody's set, but guessed to be this rider's, or near it. */
  readonly perhaps: readonly (UnplacedPassView & { readonly point: BikePoint; readonly standing: StandingView })[];
  /** Rides with every group and is left out of counts: a guess with its figure, or a person's word; null where not. */
  readonly instructs: { readonly kind: 'said' } | { readonly kind: 'guessed'; readonly words: string } | null;
  /** The number as it was said, with the class it was said for. */
  readonly saidNumber: { readonly number: string; readonly class: string | null } | null;
  /** Groups and classes of the meeting: two may have the same number. */
  readonly classes: readonly GroupKeyView[];
  /** Said to be right as it was: how many frames then, and how many have joined since; null where nobody said so. */
  readonly settled: { readonly frames: number; readonly joined: number } | null;
  /** The minted name, where there is one. */
  readonly id: RiderId | null;
  /** Number cards held against this rider's bike, till somebody says whether they go together. */
  readonly cards: readonly {
    readonly card: number;
    /** By `people/`; null where nobody's name was taken down with it. */
    readonly holder: string | null;
    readonly person: PersonId;
    readonly frame: FrameId;
    readonly picture: PictureView;
    readonly point: BikePoint;
  }[];
  /** By a person's word in no gallery, for good. */
  readonly isBarred: boolean;
  readonly previous: RiderKey | null;
  readonly next: RiderKey | null;
  readonly initials: string;
}

export interface SessionPassView extends PassView {
  /** Null while it is in nobody's set. */
  readonly rider: {
    readonly key: RiderKey;
    readonly code: string;
    readonly livery: LiveryView;
    readonly number: Spoken | null;
  } | null;
  /** Whose it is guessed to be, while it is in nobody's set. */
  readonly guessed: { readonly code: string; readonly chance: UnitInterval } | null;
}

export interface SessionView {
  readonly asOf: number;
  readonly index: number;
  readonly name: string;
  readonly group: GroupKeyView | null;
  readonly groupVoice: Spoken;
  readonly startVoice: Spoken;
  readonly held: Spoken | null;
  readonly start: WallMs;
  readonly end: WallMs;
  readonly frames: number;
  readonly riders: number;
  readonly passes: readonly SessionPassView[];
  readonly others: readonly {
    readonly role: 'divider' | 'scenery' | 'unmeasured' | 'unmeasurable' | 'bike';
    readonly count: number;
    readonly why: readonly string[];
  }[];
  /** Riders of the group whom no picture shows: a range, each with its reason. */
  readonly unseen: readonly Spoken[];
  readonly previous: number | null;
  readonly next: number | null;
}

export interface PairSideView {
  readonly rider: RiderLineView;
  readonly picture: PictureView;
  readonly point: BikePoint;
  readonly where: string;
}

export interface ContradictionSideView {
  readonly picture: PictureView;
  /** Null while it is in nobody's set. */
  readonly code: string | null;
  readonly where: string;
}

export type QuestionView =
  | {
      readonly kind: 'line-up';
      readonly id: string;
      readonly sentence: string;
      readonly worth: number;
      readonly of: RiderLineView;
      readonly ofPoint: BikePoint;
      readonly shown: readonly {
        readonly rider: RiderLineView;
        readonly point: BikePoint;
        readonly wall: WallMs | null;
        readonly confidence: UnitInterval;
        readonly reasons: readonly string[];
      }[];
      readonly stretch: { readonly from: WallMs; readonly to: WallMs } | null;
      readonly ofWalls: readonly WallMs[];
    }
  | {
      readonly kind: 'pair';
      readonly id: string;
      readonly sentence: string;
      readonly worth: number;
      readonly confidence: UnitInterval;
      readonly reasons: readonly string[];
      readonly sides: readonly [PairSideView, PairSideView];
      readonly join: string;
      readonly apart: string;
    }
  | {
      readonly kind: 'whose-pass';
      readonly id: string;
      readonly sentence: string;
      readonly worth: number;
      readonly pictures: readonly PictureView[];
      readonly ofPoint: BikePoint;
      readonly why: string | null;
      /** Likeliest first. */
      readonly shown: readonly (LikenessView & {
        readonly rider: RiderLineView;
        readonly group: GroupKeyView | null;
        readonly point: BikePoint;
      })[];
    }
  | {
      readonly kind: 'odd-one-out';
      readonly id: string;
      readonly sentence: string;
      readonly worth: number;
      readonly of: RiderLineView;
      readonly ofPoint: BikePoint;
      /** Least sure first. */
      readonly shown: readonly {
        readonly picture: PictureView;
        readonly point: BikePoint;
        readonly wall: WallMs;
        readonly where: string;
        readonly confidence: UnitInterval;
        readonly why: string | null;
      }[];
      /** One bike of every pass that is not shown: what goes is said to differ from them too. */
      readonly others: readonly BikePoint[];
    }
  | {
      readonly kind: 'clock';
      readonly id: string;
      readonly sentence: string;
      readonly worth: number;
      readonly body: BodyKey;
      /** The frames it is about, in the order they were taken, both ends in; a missing end means all the way. */
      readonly fromFrame?: FrameId;
      readonly toFrame?: FrameId;
      /** Asked about, and what these frames stand by now: of one part of a body either may be nought. */
      readonly offsetMs: Milliseconds;
      readonly standsByMs: Milliseconds;
      readonly reasons: readonly string[];
      readonly frames: number;
      readonly example: { readonly recorded: WallMs; readonly stands: WallMs; readonly corrected: WallMs } | null;
      /** Asked because a clock card says so; absent: by the pictures alone. */
      readonly card?: FrameId;
    }
  | {
      readonly kind: 'number-card';
      readonly id: string;
      readonly sentence: string;
      readonly worth: number;
      readonly card: number;
      /** By `people/`; null where nobody's name was taken down with it. */
      readonly holder: string | null;
      readonly person: PersonId;
      readonly frame: FrameId;
      /** The bike that it is held against first. */
      readonly bikes: readonly { readonly picture: PictureView; readonly point: BikePoint }[];
    }
  | {
      readonly kind: 'border';
      readonly id: string;
      readonly sentence: string;
      readonly worth: number;
      readonly at: WallMs;
      readonly reasons: readonly string[];
      readonly before: PictureView | null;
      readonly after: PictureView | null;
    }
  | {
      readonly kind: 'contradiction';
      readonly id: string;
      readonly sentence: string;
      readonly worth: number;
      /** Where it is about two riders: the first pair is shown, and what is answered is said of all. */
      readonly between: {
        readonly sides: readonly [ContradictionSideView, ContradictionSideView];
        readonly pairs: readonly (readonly [BikePoint, BikePoint])[];
        readonly canBeOne: boolean;
        /** Held by this settled rider: settled once more it stays. */
        readonly heldBy?: { readonly rider: RiderId; readonly files: readonly FileId[] };
      } | null;
    };

export interface SaidView {
  readonly gesture: GestureId;
  readonly text: string;
  readonly atMs: number;
  readonly initials: string;
  /** Whether it can be taken back from here, whatever was said since. */
  readonly canBeTakenBack: boolean;
}

export interface QuestionsView {
  readonly asOf: number;
  /** Most valuable first. */
  readonly questions: readonly QuestionView[];
  /** How many wait behind these. */
  readonly more: number;
  readonly said: readonly SaidView[];
}

/** What the time before says now, ready to be changed and said again. */
export interface SlipView {
  readonly gesture: GestureId;
  readonly slip: Slip;
  readonly text: string;
  /** What it did to the timetable. */
  readonly sentences: readonly string[];
}

/** A table file as lines that can be read and mended. */
export interface TableView {
  readonly text: string;
  /** Says which sheet was read, where the file has several. */
  readonly note: string | null;
}

export interface BeforeView {
  readonly asOf: number;
  readonly date: string;
  /** Of the meeting, `YYYY-MM-DD`. */
  readonly days: readonly string[];
  readonly zone: string;
  /** Now on the meeting's clock. */
  readonly now: WallMs;
  /** The lines of the drawn day. */
  readonly timetableText: string;
  readonly slipRule: SlipRule;
  readonly fastestLapMs: Milliseconds | null;
  /** What was said of the meeting's other days; it stays when this day is said again. */
  readonly otherDays: Required<Pick<Timetable, 'groups' | 'slots' | 'pauses' | 'curfews'>>;
  /** Of the whole meeting, as it was said; null where nobody said it. */
  readonly said: Timetable | null;
  /** As it runs after what slipped. */
  readonly runs: Timetable | null;
  readonly slips: readonly SlipView[];
  /** Null where no list was said. Without names. */
  readonly entries: {
    readonly count: number;
    readonly classes: readonly { readonly name: string; readonly count: number }[];
    readonly booked: readonly { readonly number: string; readonly class: string; readonly wants: string }[];
  } | null;
  readonly spots: AboutView['spots'];
  readonly stands: readonly {
    readonly number: number;
    readonly name: string;
    readonly from: WallMs;
    readonly to: WallMs;
  }[];
  readonly sessions: readonly { readonly name: string; readonly start: WallMs; readonly end: WallMs }[];
  readonly initials: string;
}

/** Papers, packing list and care before leaving home. They are kept on this machine, outside the meeting. */
export interface OfficeView {
  readonly asOf: number;
  /** The day planned for, `YYYY-MM-DD`. */
  readonly date: string;
  readonly page: BeforePage;
  readonly care: CareOfDay;
  /** As lines that can be written down again. */
  readonly texts: { readonly own: string; readonly meeting: string; readonly kit: string };
}

/** Long work and how far it is. */
export interface WorkView {
  readonly state: 'idle' | 'running' | 'finished' | 'stopped' | 'failed';
  readonly done: number;
  readonly total: number;
  readonly secondsLeft: number | null;
  /** What came of it; while it runs, why nothing moves. */
  readonly sentence: string | null;
}

export interface ActionView extends WorkView {
  readonly name: 'proofs' | 'finals' | 'gallery';
}

export interface ActionsView {
  readonly asOf: number;
  readonly keepers: number;
  /** In how many frames they are: one with two riders is kept for each. */
  readonly frames: number;
  readonly riders: number;
  /** Riders who would stand in the gallery with nothing. */
  readonly withoutKeeper: readonly RiderLineView[];
  /** The gallery made last, by the log. */
  readonly handedOver: {
    readonly edition: string;
    readonly riders: number;
    readonly pictures: number;
    readonly at: WallMs;
  } | null;
  readonly actions: readonly ActionView[];
}

/** What a person said, sent by the screen. The same gesture sent twice is one gesture. */
export interface GestureRequest {
  readonly gesture: GestureId;
  readonly decisions: readonly Decision[];
}

export interface UndoAnswer {
  readonly withdrawn: GestureId | null;
  readonly sentence: string;
  /** Taken back only if it is named: no slip of a key may take the day's set-up, or what was said before. */
  readonly asks?: GestureId;
}

export interface AgainAnswer {
  /** What stands again, or null where nothing was taken back. */
  readonly again: GestureId | null;
  readonly sentence: string;
}

/** Sent over the event stream, at most four a second: what changed since the last one. */
export interface ChangedEvent {
  readonly asOf: number;
  readonly changed: readonly ('day' | 'cards' | 'notices' | 'actions' | 'plan' | 'lunch' | 'orders')[];
}

/** Every refusal: what was expected, what came, what to do. */
export interface ProblemView {
  readonly problem: string;
}
