/** Takings as sentences, sums and charts. Rules OG20 to OG28. */
import { type Minor, moneyText } from '../../core/handover/orders/index.js';
import {
  type MeetingTakings,
  percentText,
  type SpotTakings,
  type Takings,
  type TakingsFound,
  type TakingsRow,
  takingsBars,
} from '../../core/review/takings/index.js';
import type { Elsewhere } from '../../host/review/index.js';
import type { Known } from '../views/known.js';
import { counted, listed } from '../views/words.js';
import type { CurrencyTakingsView, TakingsBarView, TakingsView } from './types.js';

const NOTHING = 'Nothing is sold yet, as far as orders were fetched.';
const FETCH = 'Orders stand at the order service; what was fetched from it is reckoned here.';

export function takingsView(known: Known, { takings, left }: TakingsFound, others: Elsewhere): TakingsView {
  const { asOf, about } = known.state;
  const here = { meeting: `${about.name}, ${about.firstDay}`, takings };
  return {
    asOf,
    headline:
      takings.length === 0
        ? NOTHING
        : `${listed(takings.map((one) => moneyOf(one)(one.left)))} ${takings.length === 1 ? 'is' : 'are'} left of ${counted(
            takings.reduce((sum, { orders }) => sum + orders, 0),
            'order',
          )}.`,
    lead: takings.length === 0 ? FETCH : takings.map(leadOf).join(' '),
    apart: [...left, ...others.left],
    currencies: takings.map((one) => currencyView(one, known, [here, ...others.meetings])),
  };
}

const moneyOf =
  ({ currency }: Takings) =>
  (amount: number): string =>
    moneyText(amount as Minor, currency, 'en');

function leadOf(takings: Takings): string {
  const money = moneyOf(takings);
  const went = takings.refunded === 0 ? 'nothing went back' : `${money(takings.refunded)} went back`;
  return `${money(takings.paid)} came and ${went}.`;
}

function currencyView(takings: Takings, known: Known, meetings: readonly MeetingTakings[]): CurrencyTakingsView {
  const { currency, commission } = takings;
  const money = moneyOf(takings);
  const sum = (words: string, amount: number) => ({ words, amount: money(amount), isLeft: false });
  const chart = (title: string, aside: string | null, rows: readonly (TakingsRow | SpotTakings)[], nameOf?: Name) => ({
    title,
    aside,
    bars: barsOf(rows, takings, nameOf),
  });
  return {
    currency,
    sums: [
      sum('Came', takings.paid),
      ...(takings.refunded === 0 ? [] : [sum('Went back', 0 - takings.refunded)]),
      ...takings.taxes.map(({ rate, tax, gross }) => sum(`Tax at ${percentText(rate)}, in ${money(gross)}`, 0 - tax)),
      ...(commission === null ? [] : [sum('The organiser’s part', 0 - commission.amount)]),
      { ...sum('Left', takings.left), isLeft: true },
    ],
    charts: [
      chart('By meeting', 'those this machine knows', meetingRows(meetings, currency)),
      chart('By product', null, takings.byProduct),
      chart('By spot', null, takings.bySpot, (spot) => known.spotById.get(spot as never)?.name ?? spot),
      chart('By session', null, takings.bySession),
    ],
  };
}

/** Of this currency, each meeting's whole. */
const meetingRows = (meetings: readonly MeetingTakings[], currency: string): readonly TakingsRow[] =>
  meetings.flatMap(({ meeting, takings }) =>
    takings
      .filter((one) => one.currency === currency)
      .map(({ gross, refunded, orders }) => ({ of: meeting, gross, refunded, orders })),
  );

type Name = (of: string) => string;

const barsOf = (
  rows: readonly (TakingsRow | SpotTakings)[],
  takings: Takings,
  nameOf?: Name,
): readonly TakingsBarView[] =>
  takingsBars(rows, takings.currency, nameOf === undefined ? {} : { nameOf }).map(({ row, ...bar }) => ({
    ...bar,
    note: noteOf(row, moneyOf(takings)),
  }));

function noteOf(row: TakingsRow | SpotTakings, money: (amount: number) => string): string {
  const back = row.refunded === 0 ? [] : [`${money(row.refunded)} went back`];
  const minute =
    'aMinute' in row && row.aMinute !== null ? [`${money(Math.round(row.aMinute))} a minute stood there`] : [];
  return [counted(row.orders, 'order'), ...back, ...minute].join(', ');
}
