/**
 * What QR codes in a frame say. A clock card is looked for only where no bike is, so that it costs the day's pictures nothing;
 * a number card stands beside a bike, so there a quick look for the squares of a code comes before the reading.
 */
import type { FrameMeasured } from '../types.js';
import { readClockCard } from './clockCard.js';
import { readNumberCard } from './numberCard.js';
import type { SeenCard, SeenCode } from './types.js';

/** A frame with a clock card is a divider, for nobody photographs a phone's clock for a rider. */
const SURELY_A_DIVIDER = 1;

export const hasMachine = ({ subjects }: FrameMeasured): boolean => subjects.some(({ what }) => what !== 'person');

/** The measurement with its cards; codes that are not ours are nobody's business and leave no trace. */
export function withCards(measured: FrameMeasured, codes: readonly SeenCode[]): FrameMeasured {
  const hasBike = hasMachine(measured);
  const cards = codes.flatMap(({ text, at }): SeenCard[] => {
    const card = (hasBike ? null : readClockCard(text)) ?? readNumberCard(text);
    return card === null ? [] : [{ ...card, at }];
  });
  if (cards.length === 0) return measured;
  const isDivider = cards.some(({ kind }) => kind === 'clock-card');
  return { ...measured, cards, ...(isDivider && { dividerScore: SURELY_A_DIVIDER }) };
}
