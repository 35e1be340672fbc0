/** Public names of orders. */
export {
  MESSAGE_FIELDS,
  MESSAGE_KINDS,
  type MessageField,
  type MessageKind,
  messageAddress,
  pictureAddress,
  riderAddress,
} from './addresses.js';
export { type HandedFile, handedFiles, type Release, releaseOf } from './handedSet.js';
export { decimalText, minorDigits, minorOf, moneyText, parseMoney } from './money.js';
export { type HandWay, moneyBack, moneyCame } from './moneyTold.js';
export { OrderError } from './orderError.js';
export { type PaperDue, paperDue, paperNumber } from './papersDue.js';
export { partOf } from './partOf.js';
export {
  type BasketAsked,
  heldInAnother,
  type KnownVoucher,
  type PricedBasket,
  priceBasket,
  unitPriceOf,
} from './priceBasket.js';
export { refundTotals } from './refundTotals.js';
export { stateOf } from './stateOf.js';
export { totalsOf } from './totals.js';
export type * from './types.js';
