/** For the accountant: one line a fact, tax by rate beside it, amounts as decimals and in minor units. Rules OG26, OG27. */
import { decimalText } from '../../handover/orders/index.js';
import type { Minor } from '../../handover/orders/types.js';
import type { Cell, MoneyFact, Takings } from './types.js';

export interface CellTable {
  readonly header: readonly string[];
  readonly rows: readonly (readonly Cell[])[];
}

export interface MeetingTakings {
  readonly meeting: string;
  readonly takings: readonly Takings[];
}

export function accountantTable(meetings: readonly MeetingTakings[]): CellTable {
  const all = meetings.flatMap(({ meeting, takings }) => takings.map((one) => ({ ...one, meeting })));
  const rates = [...new Set(all.flatMap(({ taxes }) => taxes.map(({ rate }) => rate)))].sort((a, b) => a - b);
  return {
    header: [
      ...[
        'date',
        'meeting',
        'order',
        'fact',
        'kind',
        'how',
        'reference',
        'paper',
        'for',
        'currency',
        'gross',
        'gross in minor units',
      ],
      ...rates.flatMap((rate) => [`net at ${percentText(rate)}`, `tax at ${percentText(rate)}`]),
      'paid over the order',
    ],
    rows: all.flatMap(({ facts, currency, meeting }) => facts.map((fact) => rowOf(fact, { currency, rates, meeting }))),
  };
}

interface Beside {
  readonly currency: string;
  readonly rates: readonly number[];
  readonly meeting: string;
}

function rowOf(fact: MoneyFact, { currency, rates, meeting }: Beside): readonly Cell[] {
  const money = (amount: number): Cell => ({ number: decimalText(amount as Minor, currency) });
  const texts = [
    new Date(fact.at).toISOString(),
    meeting,
    fact.order,
    fact.key,
    fact.kind,
    fact.how,
    fact.reference,
    fact.paper ?? '',
    fact.products.join(', '),
    currency,
  ];
  return [
    ...texts.map((text): Cell => ({ text })),
    money(fact.amount),
    { number: String(fact.amount) },
    ...rates.flatMap((rate): readonly Cell[] => {
      const part = fact.taxes.find((one) => one.rate === rate);
      return part === undefined ? [{ text: '' }, { text: '' }] : [money(part.net), money(part.tax)];
    }),
    money(fact.overpaid),
  ];
}

/** `20 %`, `5.5 %`. */
export const percentText = (basisPoints: number): string => `${basisPoints / 100} %`;
