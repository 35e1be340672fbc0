/** What a person says of an order's money. Said again after a lost answer, the same rest is the same fact. */
import type { Fact, Minor, OrderState } from './types.js';

type Paid = Extract<Fact, { kind: 'paid' }>;
type Refunded = Extract<Fact, { kind: 'refunded' }>;
/** Ways in which a person takes money. */
export type HandWay = Extract<Paid['way'], 'transfer' | 'cash' | 'terminal'>;

export const moneyCame = (
  { paid }: Pick<OrderState, 'paid'>,
  amount: Minor,
  way: HandWay,
  reference: string,
): { readonly key: string; readonly fact: Paid & { readonly way: HandWay } } => ({
  key: `${way}-${paid}-${amount}`.padEnd(8, '-'),
  fact: { kind: 'paid', amount, way, reference },
});

export const moneyBack = (
  { refunded }: Pick<OrderState, 'refunded'>,
  amount: Minor,
  why: Refunded['why'],
  reference: string,
): { readonly key: string; readonly fact: Refunded } => ({
  key: `refund-${refunded}-${amount}`,
  fact: { kind: 'refunded', amount, why, reference },
});
