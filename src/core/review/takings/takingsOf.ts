/** What a meeting took: by product, spot, session, rider, way and day; tax and the organiser's part apart. Rules OG20–OG25. */

import { type OrderId, stateOf } from '../../handover/orders/index.js';
import { shareOf, WHOLE } from '../../handover/orders/money.js';
import type { Minor, StoredFact, TaxPart } from '../../handover/orders/types.js';
import type { CommissionAgreed } from '../../handover/organiser/types.js';
import type { SpotId } from '../../ids.js';
import { type Dealt, dealtOf } from './dealt.js';
import { moneyFacts } from './moneyFacts.js';
import type { Commission, MoneyFact, SpotTakings, Takings, TakingsFound, TakingsInput, TakingsRow } from './types.js';

export function takingsOf(input: TakingsInput): TakingsFound {
  const byOrder = grouped(input.facts, ({ order }) => order);
  const orders = [...byOrder].map(([order, told]) => ({ ...moneyOf(order, told, input), order }));
  const placed = orders.filter(({ currency }) => currency !== null);
  const currencies = [...new Set(placed.map(({ currency }) => currency!))].sort();
  return {
    takings: currencies.map((currency) =>
      ofCurrency(
        currency,
        placed.filter((one) => one.currency === currency),
        input,
      ),
    ),
    left: orders.flatMap(({ left }) => left),
  };
}

interface OrderMoney {
  /** Null: of another meeting, or nothing is known of the order itself. */
  readonly currency: string | null;
  readonly facts: readonly MoneyFact[];
  readonly dealt: readonly Dealt[];
  readonly left: readonly string[];
}

function moneyOf(order: OrderId, told: readonly StoredFact[], input: TakingsInput): OrderMoney {
  const { placed, paid, refunded } = stateOf(order, told);
  const nothing = { currency: null, facts: [], dealt: [], left: [] };
  if (placed === null)
    return paid + refunded === 0 ? nothing : { ...nothing, left: [unplacedSentence(order, paid, refunded)] };
  if (input.meeting !== undefined && placed.meeting !== input.meeting) return nothing;
  const facts = moneyFacts(placed, told, input.papers);
  return {
    currency: placed.totals.currency,
    facts,
    dealt: facts.flatMap((fact) => dealtOf(fact, placed.lines, input)).filter(({ amount }) => amount !== 0),
    left: [],
  };
}

const unplacedSentence = (order: OrderId, paid: number, refunded: number): string =>
  `Expected order ${order} beside its money (${paid} paid, ${refunded} refunded, in minor units), but it was not fetched. It is in no table: fetch the orders again.`;

function ofCurrency(
  currency: string,
  orders: readonly OrderMoney[],
  { minutes, commission: agreed }: TakingsInput,
): Takings {
  const facts = orders.flatMap((one) => one.facts).sort((a, b) => a.at - b.at || (a.key < b.key ? -1 : 1));
  const dealt = orders.flatMap((one) => one.dealt);
  const paid = sum(facts.filter(({ kind }) => kind === 'paid').map(({ amount }) => amount));
  const gross = sum(facts.map(({ amount }) => amount));
  const taxes = taxesOf(facts);
  const tax = sum(taxes.map((part) => part.tax));
  const net = (gross - tax) as Minor;
  const commission = commissionOf(agreed, gross, net);
  return {
    currency,
    facts,
    orders: orders.length,
    paid,
    refunded: (paid - gross) as Minor,
    gross,
    taxes,
    tax,
    net,
    commission,
    left: (net - (commission?.amount ?? 0)) as Minor,
    byProduct: rowsBy(dealt, ({ product }) => product),
    bySpot: rowsBy(dealt, ({ spot }) => spot)
      .map((row) => beside(row, minutes))
      .sort(byMinute),
    bySession: rowsBy(dealt, ({ session }) => session),
    byRider: rowsBy(dealt, ({ rider }) => rider),
    byWay: rowsBy(dealt, ({ fact }) => (fact.kind === 'paid' ? fact.how : `refunded: ${fact.how}`)),
    byDay: rowsBy(dealt, ({ fact }) => new Date(fact.at).toISOString().slice(0, 10)).toSorted((a, b) =>
      a.of! < b.of! ? -1 : 1,
    ),
  };
}

const sum = (amounts: readonly number[]): Minor => amounts.reduce((all, one) => all + one, 0) as Minor;

function taxesOf(facts: readonly MoneyFact[]): readonly TaxPart[] {
  const parts = facts.flatMap(({ taxes }) => taxes);
  const rates = [...new Set(parts.map(({ rate }) => rate))].sort((a, b) => a - b);
  return rates.map((rate) => {
    const own = parts.filter((part) => part.rate === rate);
    return {
      rate,
      net: sum(own.map(({ net }) => net)),
      tax: sum(own.map(({ tax }) => tax)),
      gross: sum(own.map(({ gross }) => gross)),
    };
  });
}

/** Reckoned once over the meeting, half a unit rounded up; of money that went back nobody has a part. */
function commissionOf(agreed: CommissionAgreed | null, gross: Minor, net: Minor): Commission | null {
  if (agreed === null) return null;
  if (agreed.kind === 'fixed') return { agreed, amount: agreed.amount as Minor };
  const of = Math.max(0, agreed.of === 'gross' ? gross : net);
  return { agreed, amount: shareOf(of, agreed.basisPoints, WHOLE) as Minor };
}

/** Most money first. */
function rowsBy(dealt: readonly Dealt[], of: (one: Dealt) => string | null): readonly TakingsRow[] {
  return [...grouped(dealt, of)]
    .map(([name, own]) => ({
      of: name,
      gross: sum(own.map(({ amount }) => amount)),
      refunded: sum(own.flatMap(({ fact, amount }) => (fact.kind === 'refunded' ? [0 - amount] : []))),
      orders: new Set(own.map(({ fact }) => fact.order)).size,
    }))
    .sort((a, b) => b.gross - a.gross || ((a.of ?? '~') < (b.of ?? '~') ? -1 : 1));
}

function beside(row: TakingsRow, stood: ReadonlyMap<SpotId, number>): SpotTakings {
  const minutes = row.of === null ? null : (stood.get(row.of as SpotId) ?? null);
  return { ...row, minutes, aMinute: minutes === null || minutes < 1 ? null : row.gross / minutes };
}

const byMinute = (a: SpotTakings, b: SpotTakings): number => (b.aMinute ?? -1) - (a.aMinute ?? -1) || b.gross - a.gross;

function grouped<T, K>(all: readonly T[], keyOf: (one: T) => K): ReadonlyMap<K, readonly T[]> {
  const groups = new Map<K, T[]>();
  for (const one of all) {
    const group = groups.get(keyOf(one));
    if (group === undefined) groups.set(keyOf(one), [one]);
    else group.push(one);
  }
  return groups;
}
