/**
 * The invented circuit of the invented meeting: straights and round bends laid out by hand in metres, in open sea where
 * there is nothing. Clockwise. The true radii are known, since each bend is an arc between two straights.
 */
import type { SpotId } from '../../src/core/ids.js';
import { localPlane, type Point } from '../../src/core/numeric/localPlane.js';
import { azimuthFrom, stepFrom } from '../../src/core/plan/circuit/angles.js';
import { headingAt, layTrack, placeOf, pointAlong, roundedPlace } from '../../src/core/plan/circuit/track.js';
import type { Access, Circuit, CircuitSpot, Place, Way } from '../../src/core/plan/circuit/types.js';
import { degreesOf, metresOf, millisecondsOf } from '../../src/core/units.js';
import { FASTEST_LAP_S, MEETING, SPOTS } from '../day/meeting.js';
import { layCorners } from './layout.js';

const plane = localPlane(2.4, 55);

/** Laid out with the main straight to the right, then turned so that its bends lie as the invented pictures have them. */
const TURNED_DEG = -95;
const turned = ({ x, y }: Point): Point =>
  stepFrom({ x: 0, y: 0 }, azimuthFrom({ x: 0, y: 0 }, { x, y }) + TURNED_DEG, Math.hypot(x, y));

export const EBBSTONE_LAID = layCorners(
  turned({ x: -70, y: 366 }),
  [
    { name: 'Hawser', x: 562, y: 386, radius: 45 },
    { name: 'Fairlead', x: 655, y: 23, radius: 30 },
    { name: 'Sheave', x: 281, y: -47, radius: 60 },
    { name: 'Bollard', x: 351, y: -386, radius: 40 },
    { name: 'Thwart', x: 90, y: -442, radius: 45 },
    { name: 'Rowlock', x: -10, y: -150, radius: 95 },
    { name: 'Kedge', x: -690, y: -281, radius: 38 },
    { name: 'Binnacle', x: -765, y: 20, radius: 90 },
    { name: 'Windrow', x: -527, y: 351, radius: 80 },
  ].map((corner) => ({ ...corner, ...turned(corner) })),
);

const placed = (point: Point): Place => roundedPlace(placeOf(plane, point));
const centreline = EBBSTONE_LAID.ring.map(placed);
const track = layTrack({ centreline });
const toPlane = (point: Point): Point => {
  const { longitudeDeg, latitudeDeg } = track.plane.toPlace(point);
  return plane.toPoint(longitudeDeg, latitudeDeg);
};

/** A point beside the line: share of the lap, and metres to the right of it, which is the infield. */
function beside(share: number, rightM: number): Point {
  const along = share * track.lengthM;
  return toPlane(stepFrom(pointAlong(track, along), headingAt(track, along) + 90, rightM));
}
const follow = (from: number, to: number, rightM: number): Point[] => {
  const steps = Math.ceil((Math.abs(to - from) * track.lengthM) / 40);
  return Array.from({ length: steps + 1 }, (_, i) => beside(from + ((to - from) * i) / steps, rightM));
};

const ON_FOOT: readonly [Access, Access] = ['anyone', 'nobody'];
const ROAD: readonly [Access, Access] = ['anyone', 'with-permit'];
const PERMIT: readonly [Access, Access] = ['with-permit', 'with-permit'];

const wayOf = (
  id: string,
  kind: Way['kind'],
  [onFoot, byVehicle]: readonly [Access, Access],
  points: readonly Point[],
  crossing: Way['crossing'] = 'none',
): Way => ({ id, line: points.map(placed), kind, crossing, onFoot, byVehicle });

const GATE = beside(0.985, -40);
const INFIELD_GATE = beside(0.985, 45);
const MIDDLE: Point = turned({ x: -60, y: 40 });
const WEST_FOOT = beside(0.74, 32);

const WAYS: readonly Way[] = [
  wayOf('tunnel', 'service-road', ROAD, [GATE, INFIELD_GATE], 'tunnel'),
  wayOf('pit-path', 'path', ON_FOOT, [GATE, ...follow(0.99, 1.255, -32)]),
  wayOf('far-road', 'service-road', PERMIT, follow(0.255, 0.42, -32)),
  wayOf('shore-road', 'service-road', ROAD, [GATE, ...follow(0.98, 0.72, -32)]),
  wayOf('spit-path', 'path', ON_FOOT, follow(0.72, 0.51, -28)),
  wayOf('infield-road', 'service-road', ROAD, [INFIELD_GATE, MIDDLE, turned({ x: 120, y: 60 }), beside(0.325, 34)]),
  wayOf('infield-path', 'path', ON_FOOT, [beside(0.325, 34), turned({ x: 420, y: 60 }), beside(0.252, 40)]),
  wayOf('reed-path', 'path', ON_FOOT, [MIDDLE, turned({ x: -330, y: 20 }), WEST_FOOT, ...follow(0.735, 0.715, 32)]),
  wayOf('strand-path', 'path', ON_FOOT, [WEST_FOOT, ...follow(0.76, 0.83, 30)]),
  { ...wayOf('footbridge', 'path', ON_FOOT, [beside(0.74, -32), WEST_FOOT], 'bridge'), saidMinutes: { onFoot: 2 } },
];

interface Standing {
  readonly id: string;
  readonly name: string;
  /** Share of the lap beside which one stands, metres to the right, and share of the lap looked at. */
  readonly stands: readonly [share: number, rightM: number, looksAt: number];
  readonly words: Omit<CircuitSpot, 'id' | 'number' | 'name' | 'place' | 'viewAzimuthDeg'>;
}

const [beacon, gannet, slipway] = SPOTS;
const STANDINGS: readonly Standing[] = [
  {
    ...beacon,
    stands: [0.2515, 18, 0.2445],
    words: { heightM: metresOf(2), hasShade: false, focalMm: [150, 400] },
  },
  {
    ...gannet,
    stands: [0.545, -32, 0.544],
    words: { heightM: metresOf(1), focalMm: [100, 300] },
  },
  {
    ...slipway,
    stands: [0.828, 19, 0.817],
    words: { heightM: metresOf(3), hasShade: true, focalMm: [150, 400] },
  },
  {
    id: 'lantern',
    name: 'Lantern',
    stands: [0.158, -30, 0.145],
    words: {
      heightM: metresOf(4),
      focalMm: [200, 600],
      caution: 'Run-off of the long straight: stay behind the second fence.',
    },
  },
  { id: 'windlass', name: 'Windlass', stands: [0.325, 28, 0.325], words: { focalMm: [100, 300], hasShade: false } },
  {
    id: 'sandbar',
    name: 'Sandbar',
    stands: [0.412, -27, 0.405],
    words: {
      needsPermit: true,
      focalMm: [150, 400],
      caution: 'Service road in use: keep off it while recovery moves.',
    },
  },
  { id: 'tideline', name: 'Tideline', stands: [0.6, -24, 0.592], words: { hasShade: true, focalMm: [70, 200] } },
  { id: 'turnstone', name: 'Turnstone', stands: [0.715, 26, 0.708], words: { focalMm: [100, 300] } },
];

function spotOf({ id, name, stands: [share, rightM, looksAt], words }: Standing, i: number): CircuitSpot {
  const from = beside(share, rightM);
  const viewAzimuthDeg = degreesOf(Math.round(azimuthFrom(from, beside(looksAt, 0))));
  return { id: id as SpotId, number: i + 1, name, place: placed(from), viewAzimuthDeg, ...words };
}

/** The circuit that comes with the program. */
export const EBBSTONE: Circuit = {
  name: MEETING.circuit,
  zone: MEETING.zone,
  direction: 'clockwise',
  centreline,
  widthM: metresOf(12),
  bends: EBBSTONE_LAID.apexes.map(({ name, alongM }) => ({ name, alongM: metresOf(Math.round(alongM)) })),
  ways: WAYS,
  spots: STANDINGS.map(spotOf),
  paddock: placed(beside(0.985, -52)),
  lapRecordMs: millisecondsOf(FASTEST_LAP_S * 1000),
};
