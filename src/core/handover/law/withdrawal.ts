/**
 * Withdrawing from the contract without a reason, while that right stands: of downloads until it is lost or has run out (LW4), of
 * prints until fourteen days after they were handed over, so without an end while nobody has said that they were.
 *
 * Sources, as templates for what local law says: Directive 2011/83/EU, art. 9(2)(b) (goods: from possession), 11a (the function, since
 * 19 June 2026, by Directive (EU) 2023/2673), 13(1) (money back within 14 days); SI 2013/3134, reg. 30. That prints might be made to the
 * buyer's specification (art. 16(c)), and so be without this right, is not assumed. Rule LW21.
 */

import { type EpochMs, epochMsOf } from '../../units.js';
import { type Fact, type Minor, type OrderPart, type OrderState, partOf } from '../orders/index.js';
import { dealOut } from '../orders/money.js';
import { cancellationOf, daysEnd } from './consent.js';

export interface Withdrawable {
  readonly part: OrderPart;
  /** Null: it does not run yet. */
  readonly until: EpochMs | null;
}

export function withdrawableOf(state: OrderState, now: EpochMs): readonly Withdrawable[] {
  if (state.placed === null || state.standing === 'cancelled' || state.standing === 'refunded') return [];
  const cancellation = cancellationOf(state, now);
  const downloads: readonly Withdrawable[] =
    cancellation.kind === 'until' ? [{ part: 'downloads', until: cancellation.until }] : [];
  return [...downloads, ...printsOf(state, now)].filter(({ part }) => !state.contractWithdrawn?.parts.includes(part));
}

function printsOf({ placed, handedOver }: OrderState, now: EpochMs): readonly Withdrawable[] {
  const prints = (placed?.lines ?? []).filter((line) => partOf(line) === 'prints').flatMap(({ pictures }) => pictures);
  if (prints.length === 0) return [];
  const there = new Map(
    handedOver.flatMap(({ at, what, picture }) =>
      what === 'print' && picture !== null ? [[picture, at] as const] : [],
    ),
  );
  if (!prints.every((picture) => there.has(picture))) return [{ part: 'prints', until: null }];
  const last = Math.max(...prints.map((picture) => there.get(picture)!));
  const until = daysEnd(epochMsOf(last));
  return now <= until ? [{ part: 'prints', until }] : [];
}

/** What is told when the buyer confirms; null where the right stands for none of it. Of what is not paid yet, all of it. */
export function withdrawalFact(
  state: OrderState,
  asked: readonly OrderPart[],
  now: EpochMs,
): Extract<Fact, { kind: 'contract-withdrawn' }> | null {
  const may = withdrawableOf(state, now).map(({ part }) => part);
  const parts = state.owed > 0 && asked.length > 0 ? may : may.filter((part) => asked.includes(part));
  if (state.placed === null || parts.length === 0) return null;
  const { lines, totals } = state.placed;
  const shares = dealOut(
    totals.toPay,
    lines.map((line) => line.unitPrice * line.quantity),
  );
  const worth = lines.reduce((sum, line, i) => sum + (parts.includes(partOf(line)) ? shares[i]! : 0), 0) as Minor;
  return { kind: 'contract-withdrawn', parts, worth };
}
