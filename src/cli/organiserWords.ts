/** What was typed about the organiser: when it is due, their part, from where boards are seen. */
import { parseMoney } from '../core/handover/orders/index.js';
import type { CommissionAgreed, OrganiserAgreed } from '../core/handover/organiser/index.js';
import { CliError } from './cliError.js';
import { wholeNumber } from './numbers.js';
import { timeOn } from './timeOn.js';
import { onOneLine } from './words.js';

export interface AgreedTyped {
  readonly for?: string;
  readonly agreedPictures?: string;
  readonly due?: string;
  readonly boards?: readonly string[];
  readonly sponsors?: boolean;
  readonly until?: string;
  readonly commission?: string;
}

interface Known {
  readonly lastDay: string;
  readonly spots: readonly { readonly id: string; readonly name: string }[];
}

/** Only what was said; null: nothing was. */
export function agreedSaid(typed: AgreedTyped, known: Known): Partial<OrganiserAgreed> | null {
  const said: Partial<OrganiserAgreed> = {
    ...(typed.for === undefined ? {} : { name: typed.for }),
    ...(typed.agreedPictures === undefined ? {} : { pictures: picturesOf(typed.agreedPictures) }),
    ...(typed.due === undefined ? {} : dueOf(typed.due, known.lastDay)),
    ...(typed.boards === undefined ? {} : { boards: typed.boards.map((spot) => spotOf(spot, known)) }),
    ...(typed.sponsors === undefined ? {} : { mayPassToSponsors: typed.sponsors }),
    ...(typed.until === undefined ? {} : { mayUseUntil: typed.until }),
    ...(typed.commission === undefined ? {} : { commission: commissionOf(typed.commission) }),
  };
  return Object.keys(said).length === 0 ? null : said;
}

export function picturesOf(text: string): number {
  const count = wholeNumber(text, 1, 1000);
  if (count !== null) return count;
  throw new CliError(`Expected a number of pictures from 1 to 1000 but got ${onOneLine(text)}. Say for instance 15.`);
}

type Due = Pick<OrganiserAgreed, 'due' | 'dueMinutesAfterFlag'>;

/** `17:30` on the last day, `2026-09-21T09:00`, or `+60` after the last flag. */
function dueOf(text: string, lastDay: string): Due {
  const after = text.startsWith('+') ? wholeNumber(text.slice(1), 0, 100_000) : null;
  if (after !== null) return { dueMinutesAfterFlag: after };
  const [, day = lastDay, time] = /^(?:(\d{4}-\d{2}-\d{2})[T ])?(\d{1,2}[:.h]\d{2})$/.exec(text) ?? [];
  if (time !== undefined) return { due: new Date(timeOn(day, time)).toISOString().slice(0, 16) };
  throw new CliError(
    `Expected when the pictures are due, as 17:30, 2026-09-21T09:00 or +60 (minutes after the last flag), but got ${onOneLine(text)}.`,
  );
}

export function spotOf(text: string, { spots }: Pick<Known, 'spots'>): string {
  const wanted = text.toLowerCase();
  const found = spots.find(({ id, name }) => id.toLowerCase() === wanted || name.toLowerCase() === wanted);
  if (found) return found.id;
  const names = spots.map(({ name }) => name).join(', ');
  throw new CliError(`Expected a spot of this meeting (${names}) but got ${onOneLine(text)}.`);
}

/** `15%`, `12.5% net`, or `200.00 EUR` for the whole meeting. */
function commissionOf(text: string): CommissionAgreed {
  const share = /^(\d{1,3})(?:[.,](\d{1,2}))?\s*%\s*(gross|net)?$/.exec(text.trim());
  const basisPoints = share === null ? Number.NaN : Number(share[1]) * 100 + Number((share[2] ?? '').padEnd(2, '0'));
  if (basisPoints <= 10_000) return { kind: 'percent', basisPoints, of: share?.[3] === 'net' ? 'net' : 'gross' };
  const fixed = /^(\S+)\s+([A-Z]{3})$/.exec(text.trim());
  const amount = fixed === null ? null : parseMoney(fixed[1]!, fixed[2]!);
  if (amount !== null) return { kind: 'fixed', amount };
  throw new CliError(`Expected the organiser's part as 15%, 15% net or 200.00 EUR but got ${onOneLine(text)}.`);
}
