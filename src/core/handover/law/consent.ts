/**
 * Downloads at once against the right to cancel. Two different things are said, each with a tick of its own that was not there
 * before: that the pictures are wanted before the time to cancel has run out, and that the right is lost by it. Without both, and
 * without a confirmation the buyer can keep, the buyer may withdraw, owes nothing for what was supplied, and has the money back.
 *
 * Sources, as templates for what local law says: Directive 2011/83/EU as it stands since 28 May 2022, art. 16 first paragraph (m)
 * (consent, acknowledgement, confirmation under art. 7(2) or 8(7)), art. 9 (14 days; digital content from the day of the contract),
 * art. 14(4)(b) (nothing is owed without them), art. 22 (no ticks set before); United Kingdom, SI 2013/3134, reg. 30 and 37.
 * Rules LW3, LW4.
 */
import { type EpochMs, epochMsOf } from '../../units.js';
import { type OrderState, partOf } from '../orders/index.js';

export type ConsentTrouble = 'not-given' | 'without-words' | 'one-tick-for-both' | 'after-the-order';

type Placed = NonNullable<OrderState['placed']>;

export const hasDownloads = ({ lines }: Pick<Placed, 'lines'>): boolean =>
  lines.some((line) => partOf(line) === 'downloads');

/** What is wrong with the consent an order was placed with; nothing where all it holds are prints. */
export function consentTroubles(placed: Pick<Placed, 'lines' | 'consent' | 'at'>): readonly ConsentTrouble[] {
  if (!hasDownloads(placed)) return [];
  const { consent } = placed;
  if (consent === null) return ['not-given'];
  const ticks = [consent.immediateSupply, consent.lossOfCancellation];
  const said = ticks.map(({ words }) => words.replace(/\s+/g, ' ').trim());
  const troubles: ConsentTrouble[] = [];
  if (said.some((words) => words === '')) troubles.push('without-words');
  else if (said[0] === said[1]) troubles.push('one-tick-for-both');
  if (ticks.some(({ at }) => at > placed.at)) troubles.push('after-the-order');
  return troubles;
}

const DAYS = 14;
const DAY_MS = 86_400_000;
/** Summer time of the easternmost member state: nobody's day there begins before UTC's by more. */
const EARLIEST_DAY_MS = 3 * 3_600_000;

/**
 * The last moment of the fourteen days after that of the event, which does not count itself; where they end on a Saturday or Sunday, of
 * the Monday (Regulation 1182/71, art. 3(1), (2)(b) and (4), by recital 41 of the directive). Of public holidays nothing is known here.
 */
export function daysEnd(after: EpochMs): EpochMs {
  const last = Math.floor((after + EARLIEST_DAY_MS) / DAY_MS) + DAYS;
  // 1 January 1970 was a Thursday.
  const weekday = (last + 4) % 7;
  return epochMsOf((last + (weekday === 6 ? 3 : weekday === 0 ? 2 : 1)) * DAY_MS - 1);
}

/** Of the downloads of an order. Prints are goods: their days begin when they arrive, which nobody here knows. */
export type Cancellation =
  | { readonly kind: 'no-downloads' }
  | { readonly kind: 'lost'; readonly since: EpochMs }
  /** `why`: what is missing for it to be lost sooner. */
  | {
      readonly kind: 'until';
      readonly until: EpochMs;
      readonly why: 'not-handed-over' | 'not-confirmed' | ConsentTrouble;
    }
  | { readonly kind: 'run-out'; readonly at: EpochMs };

/** `handedOver` says what was fetched, and by its mail that the confirmation, the words of both ticks, went out. */
export function cancellationOf(state: Pick<OrderState, 'placed' | 'handedOver'>, now: EpochMs): Cancellation {
  const { placed, handedOver } = state;
  if (placed === null || !hasDownloads(placed)) return { kind: 'no-downloads' };
  const until = daysEnd(placed.at);
  const fetched = handedOver.filter(({ what }) => what === 'picture' || what === 'zip').map(({ at }) => at);
  const mailed = handedOver.filter(({ what }) => what === 'mail').map(({ at }) => at);
  const [trouble] = consentTroubles(placed);
  if (trouble === undefined && fetched.length > 0 && mailed.length > 0) {
    const since = Math.max(Math.min(...fetched), Math.min(...mailed));
    if (since < until) return { kind: 'lost', since: epochMsOf(since) };
  }
  if (now > until) return { kind: 'run-out', at: until };
  const why = trouble ?? (fetched.length === 0 ? 'not-handed-over' : 'not-confirmed');
  return { kind: 'until', until, why };
}
