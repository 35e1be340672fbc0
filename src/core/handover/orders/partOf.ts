import type { OrderLine, OrderPart } from './types.js';

export const partOf = ({ asked }: Pick<OrderLine, 'asked'>): OrderPart =>
  asked.kind === 'print' ? 'prints' : 'downloads';
