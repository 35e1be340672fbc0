/**
 * "That is not me": one action that takes the pictures out of the order and gives back what was paid for them. Of a single picture
 * all of its line; of a set the share of its pictures, rounded up to the buyer's good; never more than came and is still there.
 * Rules LW6 and LW7.
 */

import type { Fact, Minor, OrderState } from '../orders/index.js';
import { dealOut } from '../orders/money.js';
import type { PublicId } from '../types.js';

/** To be told in this order: stopped in between, the same action told again gives no money twice and forgets none. */
export interface FactToTell {
  readonly key: string;
  readonly fact: Fact;
}

/**
 * Nothing where none of these pictures is in the order any more.
 * @param action the same for the same pictures of the order, at most 50 letters, digits and dashes
 */
export function refundWrongRider(
  state: OrderState,
  pictures: readonly PublicId[],
  action: string,
): readonly FactToTell[] {
  const wrong = state.pictures.filter((picture) => pictures.includes(picture));
  if (state.placed === null || wrong.length === 0) return [];
  const facts: FactToTell[] = [];
  const amount = Math.min(worthOf(state.placed, new Set(wrong)), Math.max(0, state.paid - state.refunded)) as Minor;
  if (amount > 0) {
    const reference = `wrong rider, ${wrong.length} of ${state.pictures.length}`;
    facts.push({ key: `${action}-refunded`, fact: { kind: 'refunded', amount, why: 'wrong-rider', reference } });
  }
  facts.push({ key: `${action}-withdrawn`, fact: { kind: 'withdrawn', pictures: wrong, why: 'wrong-rider' } });
  if (wrong.length === state.pictures.length && state.link !== null && !state.link.isRevoked)
    facts.push({ key: `${action}-link`, fact: { kind: 'link-revoked', generation: state.link.generation } });
  return facts;
}

type Placed = NonNullable<OrderState['placed']>;

/** What these pictures came to, with their part of what a voucher took off and of the tax. */
function worthOf({ lines, totals }: Placed, wrong: ReadonlySet<PublicId>): number {
  const shares = dealOut(
    totals.toPay,
    lines.map((line) => line.unitPrice * line.quantity),
  );
  return lines.reduce((sum, { pictures }, i) => {
    const away = pictures.filter((picture) => wrong.has(picture)).length;
    return away === 0 ? sum : sum + Math.ceil((shares[i]! * away) / pictures.length);
  }, 0);
}

/** For whom the words are: what is said of the action before it is done. */
export const refundSentence = (facts: readonly FactToTell[], amountText: (amount: Minor) => string): string => {
  const told = facts.map(({ fact }) => fact);
  const away = told.flatMap((fact) => (fact.kind === 'withdrawn' ? fact.pictures : [])).length;
  const refund = told.find((fact) => fact.kind === 'refunded');
  if (away === 0) return 'None of these pictures is in the order any more; nothing changes.';
  const money = refund?.kind === 'refunded' ? `${amountText(refund.amount)} goes back` : 'no money was paid for them';
  return `${away === 1 ? '1 picture leaves' : `${away} pictures leave`} the order and ${money}.`;
};
