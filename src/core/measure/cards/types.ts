/** Cards of ours seen in a frame: measurements, like a number that was read. */
import type { ClockCard } from './clockCard.js';
import type { NumberCard } from './numberCard.js';

/** Where the code's middle lies, in upright 0–1 coordinates. */
export interface SeenAt {
  readonly x: number;
  readonly y: number;
}

export type SeenCard = (ClockCard | NumberCard) & { readonly at: SeenAt };

/** A QR code in a picture, whatever it says. */
export interface SeenCode {
  readonly text: string;
  readonly at: SeenAt;
}
