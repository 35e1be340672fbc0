/**
 * What a fact's money was for, down to single pictures: by rate over its lines as they were priced, of a line in equal parts over its
 * pictures. No unit is lost or made: parts add up to the fact. Rule OG22.
 */
import { dealOut } from '../../handover/orders/money.js';
import type { Minor, OrderLine } from '../../handover/orders/types.js';
import type { MoneyFact, PicturePlace, TakingsInput } from './types.js';

export interface Dealt extends PicturePlace {
  readonly fact: MoneyFact;
  readonly product: string | null;
  readonly amount: Minor;
}

type Known = Pick<TakingsInput, 'places' | 'riders'>;

export function dealtOf(fact: MoneyFact, lines: readonly OrderLine[], known: Known): readonly Dealt[] {
  const ofRates = fact.taxes.flatMap(({ rate, gross }) => {
    const own = lines.filter(({ taxRate }) => taxRate === rate);
    const parts = dealSigned(
      gross,
      own.map(({ unitPrice, quantity }) => unitPrice * quantity),
    );
    return own.flatMap((line, i) => ofLine(fact, line, parts[i]!, known));
  });
  const rest = (fact.amount - ofRates.reduce((sum, { amount }) => sum + amount, 0)) as Minor;
  return rest === 0 ? ofRates : [...ofRates, { fact, product: null, amount: rest, ...NOWHERE }];
}

const NOWHERE: PicturePlace = { spot: null, session: null, rider: null };

function ofLine(fact: MoneyFact, line: OrderLine, amount: Minor, { places, riders }: Known): readonly Dealt[] {
  const { asked, name, pictures } = line;
  const buyer = 'rider' in asked ? (riders.get(asked.rider) ?? null) : null;
  const one = { fact, product: name };
  if (pictures.length === 0) return [{ ...one, ...NOWHERE, rider: buyer, amount }];
  const parts = dealSigned(
    amount,
    pictures.map(() => 1),
  );
  return pictures.map((picture, i) => {
    const place = places.get(picture) ?? NOWHERE;
    return { ...one, ...place, rider: buyer ?? place.rider, amount: parts[i]! };
  });
}

/** Money that went is dealt out as money that came. */
function dealSigned(amount: Minor, weights: readonly number[]): readonly Minor[] {
  if (amount >= 0) return dealOut(amount, weights);
  return dealOut((0 - amount) as Minor, weights).map((part) => (0 - part) as Minor);
}
