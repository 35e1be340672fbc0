/**
 * Before leaving home: papers and kit. All of it is the photographer's own, kept outside the meeting and its log; serial numbers
 * go nowhere else. What a circuit asks is always a person's word: no country's figures are built in.
 */
import type { LevelRead, Protector } from '../plan/care/types.js';

/** `YYYY-MM-DD`. */
export type IsoDay = string;
/** `HH:MM`. */
export type ClockTime = `${number}:${number}`;

export interface Money {
  readonly amount: number;
  /** As written, for instance `GBP`. */
  readonly currency: string;
}

export interface LiabilityCertificate {
  readonly insurer: string;
  readonly sum: Money;
  /** The wording names work at the side of a live track. */
  readonly coversTrackside: boolean;
  readonly expires: IsoDay;
}

/** What holds for every meeting. */
export interface OwnPapers {
  readonly born?: IsoDay;
  readonly certificate?: LiabilityCertificate;
  /** For how much the kit is insured, all of it. */
  readonly kitInsured?: Money;
  readonly protector?: Protector;
  /** Where the pocket page is hosted, beside the galleries. */
  readonly pocketPage?: string;
}

export interface Deadline {
  readonly what: string;
  readonly by: IsoDay;
  readonly isDone: boolean;
}

/** Asked for and not answered is not granted. */
export type Grant = 'granted' | 'asked' | 'refused';

export interface Accreditation {
  readonly is: Grant;
  readonly by?: string;
}

/** Apart from accreditation: a pass to the track does not allow a single sale. */
export interface RightToSell {
  readonly is: Grant | 'not-wanted';
  readonly by?: string;
  readonly commissionPercent?: number;
}

/** What holds for one meeting. Absent is not said. */
export interface MeetingPapers {
  readonly asksLiability?: Money;
  readonly asksAge?: number;
  readonly accreditation?: Accreditation;
  readonly rightToSell?: RightToSell;
  readonly signOn?: ClockTime;
  /** `none`: there is no briefing for the media. */
  readonly briefing?: ClockTime | 'none';
  readonly deadlines: readonly Deadline[];
  readonly driveHomeMinutes?: number;
  readonly temperatureC?: number;
  readonly humidityPercent?: number;
  readonly framesExpected?: number;
  /** One bike going by, read on a meter here. */
  readonly noise?: LevelRead;
  /** Lines of the packing list that lie in the bag, by their id. */
  readonly packed: readonly string[];
}

export const KIT_KINDS = ['body', 'lens', 'card', 'battery', 'cover', 'ears', 'disk', 'other'] as const;
export type KitKind = (typeof KIT_KINDS)[number];

/** One thing, or several alike that are counted and not told apart. */
export interface KitItem {
  readonly kind: KitKind;
  readonly name: string;
  readonly count: number;
  readonly serial?: string;
  readonly value?: Money;
  /** Absent: not said. */
  readonly isInsured?: boolean;
  readonly weightG?: number;
  /** Of a lens, in mm on 36 × 24. */
  readonly focalMm?: readonly [shortest: number, longest: number];
  /** Of a card. */
  readonly capacityGb?: number;
  /** Of a body: frames a charge, as measured by CIPA DC-002. */
  readonly framesACharge?: number;
}

/** Everything the photographer keeps: one rewritable file. */
export interface Office {
  readonly own: OwnPapers;
  readonly kit: readonly KitItem[];
  /** By the meeting's id. */
  readonly meetings: Readonly<Record<string, MeetingPapers>>;
}

export const NOTHING_SAID: MeetingPapers = { deadlines: [], packed: [] };

/** `missing` is the only red one; `mind` will be missing soon, or is worth a thought; `open` waits for its tick. */
export type CheckState = 'missing' | 'mind' | 'open' | 'settled';

export interface Check {
  /** Stable: what a tick is remembered by. */
  readonly id: string;
  readonly is: CheckState;
  readonly sentence: string;
}

/** The page of one meeting. */
export interface BeforePage {
  readonly headline: string;
  readonly papers: readonly Check[];
  readonly packing: readonly Check[];
  readonly kit: readonly Check[];
  /** What is weighed of what is carried, and how many things are not. */
  readonly carried: { readonly kg: number; readonly unweighed: number };
}
