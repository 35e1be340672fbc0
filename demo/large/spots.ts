/** Five places to stand at, none of them one of the small meeting's: what is behind, from where, how the bikes lean. */
import { KERBS, type Scene, type Side, type Verge, type WallKind } from '../render/scene.js';

export interface LargeSpot {
  readonly scene: Scene;
  /** Compass direction of travel, degrees. */
  readonly headingDeg: number;
  /** Camera as seen from the bike, degrees from the direction of travel. */
  readonly azimuthDeg: readonly [number, number];
  readonly elevationDeg: readonly [number, number];
  readonly distanceM: readonly [number, number];
  /** Share of the picture's width that a bike's length takes. */
  readonly fill: readonly [number, number];
  /** Of the slowest group and the fastest. */
  readonly leanDeg: readonly [number, number];
  /** Metres a second, likewise. */
  readonly speed: readonly [number, number];
  /** One over seconds. */
  readonly shutters: readonly number[];
}

const WALL_TOPS: Readonly<Record<WallKind, number>> = {
  tyres: 1.15,
  rail: 0.9,
  fence: 3.2,
  boards: 1.15,
  dune: 7,
  trees: 15,
  huts: 3.8,
};

const side = (
  kerbs: keyof typeof KERBS,
  edge: number,
  verges: readonly (readonly [Verge, number])[],
  walls: readonly (readonly [WallKind, number])[] = [],
): Side => ({
  edge,
  kerb: 1.1,
  kerbColours: KERBS[kerbs],
  verges,
  walls: walls.map(([kind, q], seed) => ({ kind, q, bottom: 0, top: WALL_TOPS[kind], seed: seed + 3 })),
});

/** Bike to its right, camera to its left, and so on: seen from five sides, two of them at speed. */
export const LARGE_SPOTS: readonly LargeSpot[] = [
  {
    headingDeg: 80,
    azimuthDeg: [28, 58],
    elevationDeg: [2, 4.5],
    distanceM: [20, 28],
    fill: [0.5, 0.62],
    leanDeg: [26, 48],
    speed: [15, 22],
    shutters: [320, 500, 640],
    scene: {
      radius: 32,
      seed: 17,
      dryness: 0.3,
      left: side(
        'redWhite',
        8,
        [
          ['gravel', 24],
          ['grass', 200],
        ],
        [
          ['tyres', 26],
          ['trees', 80],
        ],
      ),
      right: side('redWhite', 1.4, [['grass', 80]]),
    },
  },
  {
    headingDeg: 190,
    azimuthDeg: [-100, -72],
    elevationDeg: [1.6, 3.2],
    distanceM: [28, 38],
    fill: [0.54, 0.66],
    leanDeg: [-20, -42],
    speed: [24, 36],
    shutters: [200, 320, 400],
    scene: {
      radius: -100,
      seed: 29,
      dryness: 0.6,
      left: side('greenWhite', 1.8, [['grass', 99]]),
      right: side(
        'greenWhite',
        9,
        [
          ['grass', 20],
          ['sand', 90],
        ],
        [
          ['boards', 21],
          ['dune', 44],
        ],
      ),
    },
  },
  {
    headingDeg: 265,
    azimuthDeg: [10, 32],
    elevationDeg: [1.4, 3],
    distanceM: [40, 55],
    fill: [0.56, 0.68],
    leanDeg: [-3, 8],
    speed: [26, 38],
    shutters: [800, 1000, 1250],
    scene: {
      radius: 900,
      seed: 43,
      dryness: 0.4,
      left: side(
        'blueWhite',
        6,
        [
          ['concrete', 24],
          ['grass', 200],
        ],
        [
          ['boards', 16],
          ['fence', 18],
        ],
      ),
      right: side(
        'blueWhite',
        4.5,
        [['grass', 200]],
        [
          ['rail', 18],
          ['trees', 50],
        ],
      ),
    },
  },
  {
    headingDeg: 330,
    azimuthDeg: [118, 146],
    elevationDeg: [1.8, 3.6],
    distanceM: [30, 42],
    fill: [0.5, 0.62],
    leanDeg: [22, 40],
    speed: [20, 30],
    shutters: [500, 640, 800],
    scene: {
      radius: 60,
      seed: 57,
      dryness: 0.2,
      left: side(
        'blackYellow',
        8,
        [
          ['runOff', 18],
          ['grass', 120],
        ],
        [
          ['tyres', 22],
          ['huts', 50],
        ],
      ),
      right: side('blackYellow', 1.6, [['grass', 90]]),
    },
  },
  {
    headingDeg: 20,
    azimuthDeg: [-62, -30],
    elevationDeg: [2.2, 4.6],
    distanceM: [22, 30],
    fill: [0.5, 0.62],
    leanDeg: [-28, -50],
    speed: [15, 21],
    shutters: [320, 400, 640],
    scene: {
      radius: -30,
      seed: 71,
      dryness: 0.35,
      left: side('redWhite', 1.3, [['grass', 80]]),
      right: side(
        'redWhite',
        9,
        [
          ['gravel', 30],
          ['grass', 200],
        ],
        [
          ['tyres', 32],
          ['dune', 52],
          ['trees', 90],
        ],
      ),
    },
  },
];
