/** The sun over a place, and how it falls on what a lens sees from a spot. */
import type { Degrees } from '../../units.js';

export interface SunPosition {
  /** From north, clockwise. */
  readonly azimuthDeg: Degrees;
  /** Of the middle of the disc above the horizon, with refraction. */
  readonly altitudeDeg: Degrees;
}

/** Where the light comes from, as seen by the lens: from behind it is `front` light. */
export type LightFrom = 'front' | 'side' | 'back';

/** The sky is a person's word, never a forecast. */
export type Sky = 'clear' | 'thin-cloud' | 'overcast';

export type SpotLight =
  | { readonly kind: 'night' }
  /** Overcast: the same from everywhere. */
  | { readonly kind: 'even'; readonly sun: SunPosition }
  | {
      readonly kind: 'sun';
      readonly sun: SunPosition;
      /** 0: straight behind the lens; 180: straight into it. In three dimensions. */
      readonly offLensDeg: Degrees;
      readonly from: LightFrom;
      /** Cosine between the sun and the outward side of the bike that the lens sees; below 0 that side is in shade. */
      readonly onSide: number;
      /** Sun below 12° and within 40° of the view: flare, dazzle. */
      readonly isLowIntoLens: boolean;
      /** Of an upright thing, in its heights; null where the sun is so low that no end of it is to be seen. */
      readonly shadowLength: number | null;
      /** Thin cloud softens the light and leaves its direction. */
      readonly isSoft: boolean;
    };
