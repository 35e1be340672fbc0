/** Public names of orders. */
export { decimalText, minorDigits, minorOf, moneyText, parseMoney } from './money.js';
export { OrderError } from './orderError.js';
export { type BasketAsked, type KnownVoucher, type PricedBasket, priceBasket } from './priceBasket.js';
export { stateOf } from './stateOf.js';
export { totalsOf } from './totals.js';
export type * from './types.js';
