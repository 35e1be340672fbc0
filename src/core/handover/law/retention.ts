/**
 * What is kept how long. Each kind of data has its own days; what comes to its end is named a week before it goes, and goes by itself
 * unless somebody says stop. What the cards brought is no kind of these: nothing here ever deletes an original. Rules LW12 to LW14.
 *
 * The days are templates, check with local law: a buyer's contact is part of papers that tax law wants kept (six to ten years in many
 * countries), all else goes when its use has ended (Regulation (EU) 2016/679, art. 5(1)(e)).
 */
import { type EpochMs, epochMsOf } from '../../units.js';
import type { KeepDays, KeptKind } from './types.js';

export const KEPT_KINDS = [
  'galleries',
  'put-up',
  'proofs',
  'finals',
  'organiser',
  'crops',
  'contacts',
  'links',
  'order-contacts',
] as const satisfies readonly KeptKind[];

export const USUAL_DAYS: KeepDays = {
  galleries: 365,
  'put-up': 365,
  proofs: 365,
  finals: 730,
  organiser: 730,
  crops: 365,
  contacts: 365,
  links: 730,
  'order-contacts': 3650,
};

export const NOTICE_DAYS = 7;
const DAY_MS = 86_400_000;

/** So much of one kind, and the day its time is counted from. */
export interface Kept {
  readonly kind: KeptKind;
  readonly count: number;
  readonly bytes: number;
  readonly from: EpochMs;
}

export type KeptStanding = 'kept' | 'to-be-said' | 'said' | 'due' | 'stopped';

export interface KeptPlan extends Kept {
  readonly endsAt: EpochMs;
  /** `to-be-said`: its time is near or over and nobody was told. `due`: told, and both its time and the notice are over. */
  readonly standing: KeptStanding;
  /** When it goes; never sooner than the notice lasts. Null while nobody was told, or it was stopped. */
  readonly goesAt: EpochMs | null;
}

export interface RetentionInput {
  readonly kept: readonly Kept[];
  readonly days: KeepDays;
  /** When it was said that a kind goes. */
  readonly saidAt: Readonly<Partial<Record<KeptKind, EpochMs>>>;
  readonly isStopped: boolean;
  readonly now: EpochMs;
}

export function planRetention({ kept, days, saidAt, isStopped, now }: RetentionInput): readonly KeptPlan[] {
  return kept
    .filter(({ count }) => count > 0)
    .map((one): KeptPlan => {
      const endsAt = epochMsOf(one.from + days[one.kind] * DAY_MS);
      const said = saidAt[one.kind];
      if (now < endsAt - NOTICE_DAYS * DAY_MS) return { ...one, endsAt, standing: 'kept', goesAt: null };
      if (isStopped) return { ...one, endsAt, standing: 'stopped', goesAt: null };
      if (said === undefined) return { ...one, endsAt, standing: 'to-be-said', goesAt: null };
      const goesAt = epochMsOf(Math.max(endsAt, said + NOTICE_DAYS * DAY_MS));
      return { ...one, endsAt, standing: now >= goesAt ? 'due' : 'said', goesAt };
    });
}

const NAMES: Readonly<Record<KeptKind, string>> = {
  galleries: 'galleries on this disk',
  'put-up': 'galleries at the places they were put up to',
  proofs: 'proofs',
  finals: 'finals',
  organiser: 'pictures for the organiser on this disk',
  crops: 'small pictures and crops of the screens',
  contacts: 'names and contacts of riders',
  links: 'links to what was bought, and its finals at the order service',
  'order-contacts': 'names and addresses in orders',
};

const dayOf = (at: EpochMs): string => new Date(at).toISOString().slice(0, 10);

/** One line a kind, as it is said before anything goes. */
export function retentionSentence({ kind, count, bytes, endsAt, standing, goesAt }: KeptPlan): string {
  const size = bytes === 0 ? '' : `, ${(bytes / 1e6).toFixed(1)} MB`;
  const what = `${NAMES[kind]} (${count}${size})`;
  switch (standing) {
    case 'kept':
      return `${what}: kept until ${dayOf(endsAt)}.`;
    case 'to-be-said':
      return `${what}: their time ends on ${dayOf(endsAt)}. Nothing goes before it was said for ${NOTICE_DAYS} days.`;
    case 'said':
      return `${what}: deleted on ${dayOf(goesAt!)}. Say --stop to keep them.`;
    case 'due':
      return `${what}: to be deleted now.`;
    case 'stopped':
      return `${what}: their time ends on ${dayOf(endsAt)}, but deleting was stopped. Say --go-on to let it go on.`;
  }
}
