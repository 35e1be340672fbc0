/**
 * A circuit as a person drew it: the line the bikes take, spots, and the ways between them. Places are WGS 84, as in the
 * GeoJSON file (RFC 7946) it is kept in. What can be worked out from the drawing is worked out; a person's word about the same
 * thing stands before it.
 */
import type { Degrees, Metres, Milliseconds } from '../../units.js';
import type { Spot } from '../types.js';

export interface Place {
  readonly longitudeDeg: Degrees;
  readonly latitudeDeg: Degrees;
}

export type Direction = 'clockwise' | 'anticlockwise';

/** A side of the bike, as its rider sits on it. */
export type BikeSide = 'left' | 'right';

/** How the bike is turned to the lens. */
export type Aspect = 'head-on' | 'three-quarter' | 'side-on' | 'going-away';

/** What of a bend can be had from a spot. */
export type Moment = 'entry' | 'apex' | 'exit' | 'straight';

/** Who may use a way while the track is hot. The circuit's and the marshals' word of the day stands above it. */
export type Access = 'anyone' | 'with-permit' | 'nobody';

export interface Bend {
  readonly name: string;
  /** Along the line from the start, where the bend is tightest. */
  readonly alongM: Metres;
}

export interface Way {
  readonly id: string;
  readonly line: readonly Place[];
  readonly kind: 'path' | 'service-road';
  /** How it gets across the track; `none`: it does not cross. A way that meets the track without one is wrong. */
  readonly crossing: 'none' | 'bridge' | 'tunnel';
  readonly onFoot: Access;
  readonly byVehicle: Access;
  /** A person's word; absent: from its length and a usual pace. */
  readonly saidMinutes?: { readonly onFoot?: number; readonly byVehicle?: number };
}

/** A spot with its place on the ground. Members after `viewAzimuthDeg` that are absent are worked out from the drawing. */
export interface CircuitSpot extends Spot {
  readonly place: Place;
  /** Where the lens points, from north, clockwise. */
  readonly viewAzimuthDeg: Degrees;
  /** Of the camera above the track. */
  readonly heightM?: Metres;
  /** To the bikes, along the view. */
  readonly distanceM?: Metres;
  readonly aspect?: Aspect;
  readonly sideSeen?: BikeSide | 'both';
  readonly moments?: readonly Moment[];
  readonly needsPermit?: boolean;
  readonly hasShade?: boolean;
  /** Shortest and longest lens that frames a bike well from here, in mm on 36 × 24. */
  readonly focalMm?: readonly [shortest: number, longest: number];
  /** What to mind here, in the circuit's or the photographer's words. */
  readonly caution?: string;
}

export interface Circuit {
  readonly name: string;
  /** IANA zone. */
  readonly zone: string;
  readonly direction: Direction;
  /** A closed ring in the direction of travel, first place not repeated, from the start line on. */
  readonly centreline: readonly Place[];
  readonly widthM?: Metres;
  /** Where the track passes over itself by a bridge: a crossing there is meant. */
  readonly overItself?: readonly Place[];
  readonly bends: readonly Bend[];
  readonly ways: readonly Way[];
  readonly spots: readonly CircuitSpot[];
  /** Where cards are brought in and the van stands. */
  readonly paddock: Place;
  readonly lapRecordMs?: Milliseconds;
}

/** What the drawing says about a spot, with the person's word put in its place where there is one. */
export interface SpotView {
  readonly spot: CircuitSpot;
  /** Along the line, where the view meets it. */
  readonly alongM: Metres;
  readonly distanceM: Metres;
  /** Where the bikes go there, from north, clockwise. */
  readonly headingDeg: Degrees;
  readonly aspect: Aspect;
  /** The side turned to the lens; `both` within 22.5° of straight on or straight away. */
  readonly sideSeen: BikeSide | 'both';
  /** Of the line there; null where it is straight. */
  readonly radiusM: Metres | null;
  readonly moments: readonly Moment[];
}

export type CircuitProblemKind =
  | 'not-a-circuit-file'
  | 'no-centreline'
  | 'closed-by-us'
  | 'against-direction'
  | 'crosses-itself'
  | 'odd-length'
  | 'spot-on-track'
  | 'paddock-on-track'
  | 'spot-far-off'
  | 'view-misses'
  | 'swapped'
  | 'repeated'
  | 'way-on-track'
  | 'way-joins-nothing'
  | 'bend-off-line'
  | 'unknown-zone'
  | 'missing'
  | 'wrong-value'
  | 'left-out'
  | 'no-lap'
  | 'not-done';

/** What is wrong with a circuit, said with what to do, and where on the map. */
export interface CircuitProblem {
  readonly kind: CircuitProblemKind;
  readonly sentence: string;
  /** Empty where it has no place. */
  readonly at: readonly Place[];
}
