/** Crops by rule, and what a person set instead. */
import type { Box } from '../../measure/types.js';
import type { PixelSize } from '../types.js';

/** Which way the bike goes in the picture; null where nobody knows, then room is even. */
export type Heading = 'left' | 'right' | null;

export interface CropInput {
  /** Of the levelled picture. */
  readonly size: PixelSize;
  /** All bikes that belong to it with their riders, in 0–1 of the levelled picture. */
  readonly subjects: readonly Box[];
  readonly heading: Heading;
  /** Room ahead over room behind; 1 is as much. */
  readonly leadRoom: number;
}

export type Crop =
  | { readonly kind: 'crop'; readonly box: Box; readonly source: 'rule' | 'said' }
  /** No crop of this shape holds all of bike and rider: the picture is left as it is, and a person is asked. */
  | { readonly kind: 'kept-whole'; readonly why: 'cut-already' | 'too-wide' | 'too-tall' | 'nothing-found' };
