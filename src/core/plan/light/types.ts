/** The sun over a place, and how it falls on what a lens sees from a spot. */
import type { SpotId } from '../../ids.js';
import type { Degrees, EpochMs, Milliseconds, UnitInterval } from '../../units.js';

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
      /**
       * Cosine between the sun and where the side of the bike that the lens sees looks to (at three quarters half-way to its
       * front or tail); below 0 that side is in shade.
       */
      readonly onSide: number;
      /** Sun below 12° and within 40° of the view: flare, dazzle. */
      readonly isLowIntoLens: boolean;
      /** Of an upright thing, in its heights; null where the sun is so low that no end of it is to be seen. */
      readonly shadowLength: number | null;
      /** Thin cloud softens the light and leaves its direction. */
      readonly isSoft: boolean;
    };

/** The sun over one place, minute by minute: worked out once for all spots of a circuit (2 km are 0.02°). */
export interface SunTrack {
  readonly from: EpochMs;
  readonly stepMs: Milliseconds;
  readonly positions: readonly SunPosition[];
}

/** What a person said of the sky from one instant to another. */
export interface SkySpan {
  readonly from: EpochMs;
  readonly to: EpochMs;
  readonly is: Sky;
}

export interface TimeSpan {
  readonly from: EpochMs;
  readonly to: EpochMs;
}

/** How the light stands at a spot, from one change to the next. */
export interface LightSpan extends TimeSpan {
  readonly is: 'night' | 'even' | LightFrom;
  /** False: nobody spoke of the sky, and it is taken as clear. */
  readonly isSkySaid: boolean;
  /** Length of shadows in heights when it begins and ends; null: none, or without an end. */
  readonly shadowLength: readonly [atFrom: number | null, atTo: number | null];
}

/** A spot's light through a day. */
export interface LightRow {
  readonly spot: SpotId;
  /** Without gaps; where one ends and the next begins, front, side and back change. */
  readonly spans: readonly LightSpan[];
  /** Sun up and below 12°. */
  readonly low: readonly TimeSpan[];
  /** Low sun within 40° of the view. */
  readonly intoLens: readonly TimeSpan[];
  /** The sun shines on the side of the bike that the lens sees. */
  readonly sideLit: readonly TimeSpan[];
}

/** A piece of the five threads of a sun row. `broken`: the sun is low. Nothing is drawn at night. */
export interface ThreadRun {
  readonly kind: 'whole' | 'broken' | 'even';
  /** 0 is the thinnest thread, 1 the thickest. */
  readonly points: readonly { readonly at: EpochMs; readonly shade: UnitInterval }[];
}

/** A sun row, ready to draw on any scale of time. */
export interface SunRow {
  readonly spot: SpotId;
  readonly threads: readonly ThreadRun[];
  /** A line of dots each. */
  readonly changes: readonly EpochMs[];
  /** What may stand in the row where it has room. */
  readonly words: readonly (TimeSpan & { readonly word: string })[];
}
