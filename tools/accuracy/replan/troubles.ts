/**
 * What spoils a day, each by chance, several may. That it happens is the trade's (named where a source was read, else common
 * practice); how often is nobody's: the chances are invented, no source, and were fixed before any gain with them was looked at.
 * Riders who come for the afternoon alone are in no source that was read, and not in here.
 */
import { ORDINARY_DAY } from '../../../demo/simulated-day/options.js';
import type { SpotId } from '../../../src/core/ids.js';
import type { Random } from '../../../src/core/numeric/random.js';

export const MORNING_ROUNDS = 4;
export const ROUNDS = 7;

export interface Troubles {
  /** As a row of the report calls them. */
  readonly words: readonly string[];
  /** Two models were read: groups keep to the clock, or everything moves. */
  readonly slipRule: 'sliding' | 'clock-fixed';
  /** A red flag ends a session (read). Those of the afternoon are known to no plan. */
  readonly flags: readonly { readonly slot: string; readonly afterMinutes: number }[];
  /** An unexplained hold of 7 min (read). */
  readonly holds: readonly { readonly slot: string; readonly minutes: number }[];
  /** Round that oil, fog or long sighting laps ate: about an hour each (read). Null: none. */
  readonly lostRound: number | null;
  /** A spot that marshals close, until lunch or all day. */
  readonly closed: { readonly spot: SpotId; readonly isAllDay: boolean } | null;
  /** Until lunch the lens used at this spot is out of focus. */
  readonly softAt: SpotId | null;
  readonly isOvercast: boolean;
  /** The sky after lunch is its own: what it does is seen at lunch and by no plan of the evening. */
  readonly isOvercastAfter: boolean;
  /** From this round on it rains, as is known at lunch (wet suits over leathers: common practice). Null: it stays dry. */
  readonly rainFrom: number | null;
  /** After lunch the groups go out in this order (an order changed; the intermediates sent out first: read). */
  readonly orderAfter: readonly string[];
  /** Rounds the photographer is not at the track: late at the gate, or called to the paddock for portraits. */
  readonly away: readonly number[];
  /** A morning round whose card is gone (one copied twice, another missed: read). */
  readonly lostCard: number | null;
  /** On timed days all riders are regrouped after lunch (read). */
  readonly isRegrouped: boolean;
}

/** What came into the model later draws from `later`, so that each day keeps what it had. */
export function drawTroubles(random: Random, later: Random, spots: readonly SpotId[]): Troubles {
  const words: string[] = [];
  const met = (chance: number, what: string, draws = random): boolean => {
    const isMet = draws.chance(chance);
    if (isMet) words.push(what);
    return isMet;
  };
  const slots = ORDINARY_DAY.groups.flatMap(({ key }) => Array.from({ length: ROUNDS }, (_, i) => `${key}${i + 1}`));
  const morning = slots.filter((name) => Number(name.slice(1)) <= MORNING_ROUNDS);
  const aRound = () => random.integer(1, MORNING_ROUNDS);
  const slipRule = random.chance(0.5) ? 'sliding' : 'clock-fixed';
  const flags = random.shuffled(slots).slice(0, random.integer(1, 4));
  const holds = met(0.5, 'held 7 min') ? [{ slot: random.oneOf(morning), minutes: 7 }] : [];
  const lostRound = met(0.3, 'an hour lost') ? aRound() : null;
  const closed = met(0.3, 'a spot closed') ? { spot: random.oneOf(spots), isAllDay: random.chance(1 / 3) } : null;
  const softAt = met(0.3, 'a lens out of focus at a spot') ? random.oneOf(spots) : null;
  const isOvercast = met(0.4, 'overcast until lunch');
  const isLate = met(0.15, 'the photographer late');
  const away = met(0.3, 'a round spent in the paddock') ? [random.integer(2, MORNING_ROUNDS)] : [];
  const lostCard = met(0.05, 'a card lost') ? aRound() : null;
  const isRegrouped = met(0.2, 'regrouped after lunch');
  const isOvercastAfter = met(0.4, 'overcast after lunch', later);
  const rainFrom = met(0.2, 'rain after lunch', later) ? later.integer(MORNING_ROUNDS + 1, ROUNDS) : null;
  const keys = ORDINARY_DAY.groups.map(({ key }) => key);
  const orderAfter = met(0.2, 'another order after lunch', later) ? later.shuffled(keys) : keys;
  return {
    words,
    slipRule,
    flags: flags.map((slot) => ({ slot, afterMinutes: random.integer(2, 12) })),
    holds,
    lostRound,
    closed,
    softAt,
    isOvercast,
    isOvercastAfter,
    rainFrom,
    orderAfter,
    away: isLate ? [1, ...away] : away,
    lostCard,
    isRegrouped,
  };
}
