import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../../numeric/random.js';
import { distanceBetween, lengthOf } from '../segments.js';
import { at, circuitOf, rectangle, spotAt, wayAlong } from '../testing/shapes.js';
import { planeAt, pointOf } from '../track.js';
import type { Circuit, CircuitSpot, Way } from '../types.js';
import { minutesBetween, packingOf, travelOver, USUAL_PACE, USUAL_PACKING } from './legs.js';
import type { Edge } from './network.js';
import { quickestFrom } from './shortest.js';

const FOOT = { hasPermit: false, hasVehicle: false };
const VAN = { hasPermit: true, hasVehicle: true };
const ids = (circuit: Circuit): CircuitSpot['id'][] => circuit.spots.map(({ id }) => id);

/** Outside, north: 300 m of path from the paddock to one spot. Inside: another, reached as `ways` say. */
const circuit = (ways: readonly Way[], spots = [spotAt('out', 300, 232, 180), spotAt('in', 0, 165, 0, 2)]): Circuit =>
  circuitOf(rectangle(800, 400), { paddock: at(0, 240), spots, ways });
const path = wayAlong('path', [
  [0, 240],
  [300, 240],
]);
const stairs = (crossing: Way['crossing']) =>
  wayAlong(
    'stairs',
    [
      [0, 240],
      [0, 160],
    ],
    { crossing },
  );

describe('from spot to spot while the track is hot', () => {
  test('PL106: minutes follow from metres and a usual pace, packing comes on top', () => {
    const leg = travelOver(circuit([path]), FOOT).legBetween('paddock', ids(circuit([]))[0]!)!;
    expect(leg.metres).toBeCloseTo(308, 0);
    expect(leg.minutes).toBeCloseTo(308 / USUAL_PACE.onFootMPerMin, 2);
    expect(leg.parts.map(({ way, by }) => [way, by])).toEqual([
      ['path', 'foot'],
      [null, 'foot'],
    ]);
    expect(packingOf(leg)).toBe(USUAL_PACKING.onFootMin);
    expect(leg.isByUsualPace).toBe(true);
  });

  test('PL106: its line lies along the ways from stop to stop, and is as long as the leg', () => {
    const bent = wayAlong('bent', [
      [-50, 240],
      [0, 260],
      [150, 300],
      [300, 240],
      [380, 240],
    ]);
    const whole = circuit([bent]);
    const travel = travelOver({ ...whole, paddock: at(-40, 244) }, FOOT);
    const out = ids(whole)[0]!;
    for (const [from, to] of [
      ['paddock', out],
      [out, 'paddock'],
    ] as const) {
      const leg = travel.legBetween(from, to)!;
      const plane = planeAt(whole.centreline[0]!);
      const points = leg.line.map((place) => pointOf(plane, place));
      expect(lengthOf(points)).toBeCloseTo(leg.metres, 1);
      const [start, end] = [points[0]!, points.at(-1)!];
      const place = (stop: typeof from) => pointOf(plane, stop === 'paddock' ? at(-40, 244) : whole.spots[0]!.place);
      expect(distanceBetween(start, place(from))).toBeLessThan(0.1);
      expect(distanceBetween(end, place(to))).toBeLessThan(0.1);
      expect(points.some((point) => distanceBetween(point, pointOf(plane, at(150, 300))) < 0.1)).toBe(true);
    }
  });

  test.each([
    ['none', null],
    ['bridge', 80],
    ['tunnel', 80],
  ] as const)('PL106: over the track by %s: %s metres', (crossing, metres) => {
    const [, inside] = ids(circuit([]));
    const leg = travelOver(circuit([path, stairs(crossing)]), FOOT).legBetween('paddock', inside!);
    if (metres === null) expect(leg).toBeNull();
    else expect(leg!.metres).toBeCloseTo(metres - 5 + 0, 0);
  });

  test('PL106: no join leads over the track, however near both sides are', () => {
    const narrow = [
      wayAlong('outer', [
        [0, 240],
        [0, 207],
      ]),
      wayAlong('inner', [
        [0, 193],
        [0, 100],
      ]),
    ];
    const [, inside] = ids(circuit([]));
    const leg = travelOver({ ...circuit(narrow), widthM: 8 as Circuit['widthM'] & number }, FOOT).legBetween(
      'paddock',
      inside!,
    );
    expect(leg).toBeNull();
  });

  test('PL106: nobody steps onto the middle of a bridge from beside it', () => {
    const spots = [spotAt('under', 9, 210, 180)];
    const far = circuit(
      [
        wayAlong(
          'bridge',
          [
            [0, 300],
            [0, 100],
          ],
          { crossing: 'bridge' },
        ),
      ],
      spots,
    );
    const leg = travelOver({ ...far, paddock: at(0, 300) }, FOOT).legBetween('paddock', spots[0]!.id);
    expect(leg).toBeNull();
  });

  test('PL106: a bridge and a tunnel that cross over the track do not meet', () => {
    const spots = [spotAt('in', 40, 130, 0)];
    const bridge = wayAlong(
      'bridge',
      [
        [-60, 260],
        [-60, 230],
        [60, 170],
        [60, 150],
      ],
      { crossing: 'bridge' },
    );
    const tunnel = wayAlong(
      'tunnel',
      [
        [60, 260],
        [60, 230],
        [-60, 170],
        [-60, 130],
        [40, 130],
      ],
      { crossing: 'tunnel' },
    );
    const crossed = { ...circuit([bridge, tunnel], spots), paddock: at(-60, 260) };
    expect(travelOver(crossed, FOOT).legBetween('paddock', spots[0]!.id)).toBeNull();
  });

  test('PL106: who may use a way stands; a permit opens what needs one', () => {
    const closed = { ...path, onFoot: 'nobody' } as const;
    const permit = { ...path, onFoot: 'with-permit' } as const;
    const [out] = ids(circuit([]));
    expect(travelOver(circuit([closed]), VAN).legBetween('paddock', out!)).toBeNull();
    expect(travelOver(circuit([permit]), FOOT).legBetween('paddock', out!)).toBeNull();
    expect(travelOver(circuit([permit]), { ...FOOT, hasPermit: true }).legBetween('paddock', out!)).not.toBeNull();
  });

  test("PL106: a person's minutes stand before length and pace, in proportion to what of the way is used", () => {
    const said = { ...path, saidMinutes: { onFoot: 10 } };
    const halfway = spotAt('half', 150, 240, 180);
    const leg = travelOver(circuit([said], [halfway]), FOOT).legBetween('paddock', halfway.id)!;
    expect(leg.minutes).toBeCloseTo(5, 2);
    expect(leg.isByUsualPace).toBe(false);
  });

  test('PL106: ways that cross or end within 15 m of one another are joined, further apart they are not', () => {
    const [a, b] = [spotAt('a', 300, 232, 180), spotAt('b', 300, 460, 180, 2)];
    const cross = wayAlong('cross', [
      [150, 230],
      [150, 450],
      [300, 460],
    ]);
    const near = wayAlong('cross', [
      [150, 254],
      [150, 450],
      [300, 460],
    ]);
    const off = wayAlong('cross', [
      [150, 257],
      [150, 450],
      [300, 460],
    ]);
    const metresVia = (way: Way) =>
      travelOver(circuit([path, way], [a, b]), FOOT).legBetween(a.id, b.id)?.metres ?? null;
    expect(metresVia(cross)).toBeCloseTo(8 + 150 + 210 + 150.33, 0);
    expect(metresVia(near)).toBeCloseTo(8 + 150 + 14 + 196 + 150.33, 0);
    expect(metresVia(off)).toBeNull();
  });
});

describe('with a van', () => {
  const road = wayAlong(
    'road',
    [
      [0, 240],
      [-600, 240],
      [-600, -300],
    ],
    { kind: 'service-road', byVehicle: 'with-permit' },
  );
  const lane = wayAlong('lane', [
    [-600, -300],
    [-500, -260],
  ]);
  const spots = [
    spotAt('by-road', -600, -100, 90),
    spotAt('by-lane', -500, -255, 0, 2),
    spotAt('near', 60, 238, 180, 3),
  ];
  const withRoad = circuit([road, lane, path], spots);
  const [byRoad, byLane, near] = ids(withRoad);

  test('PL107: one drives as far as one may and walks the rest, and the van is fetched again', () => {
    const there = travelOver(withRoad, VAN).legBetween('paddock', byLane!)!;
    expect(there.parts.map(({ way, by }) => [way, by])).toEqual([
      ['road', 'vehicle'],
      ['lane', 'foot'],
      [null, 'foot'],
    ]);
    const back = travelOver(withRoad, VAN).legBetween(byLane!, byRoad!)!;
    expect(back.parts.map(({ way, by }) => [way, by])).toEqual([
      [null, 'foot'],
      ['lane', 'foot'],
      ['road', 'vehicle'],
    ]);
    expect(packingOf(back)).toBe(USUAL_PACKING.byVehicleMin);
  });

  test('PL107: for a spot next to the paddock nobody loads the van', () => {
    const leg = travelOver(withRoad, VAN).legBetween('paddock', near!)!;
    expect(leg.parts.every(({ by }) => by === 'foot')).toBe(true);
    const on = travelOver(withRoad, VAN).legBetween(near!, byRoad!)!;
    expect(on.parts.map(({ by }) => by)).toEqual(['foot', 'foot', 'vehicle']);
  });

  test('PL107: without a permit for the road one walks', () => {
    const leg = travelOver(withRoad, { ...VAN, hasPermit: false }).legBetween('paddock', byRoad!)!;
    expect(leg.parts.every(({ by }) => by === 'foot')).toBe(true);
  });

  test('PL106: the minutes for the solver: nought on the spot, alike there and back, null without a way', () => {
    const lost = circuit([road, path], [...spots.slice(0, 2), spotAt('lost', 0, 150, 0, 3)]);
    const minutes = minutesBetween(lost, ids(lost), VAN);
    expect(minutes.map((row, i) => row[i])).toEqual([0, 0, 0]);
    expect(minutes[0]![1]).toBeCloseTo(minutes[1]![0]!, 9);
    expect(minutes.map((row) => row[2])).toEqual([null, null, 0]);
    expect(minutesBetween(lost, ['elsewhere' as CircuitSpot['id'], 'paddock'], VAN)[0]![1]).toBeNull();
  });
});

test('PL106: the quickest way is the quickest of all: 60 random nets against sums relaxed until nothing changes', () => {
  const random = seededRandom(5);
  for (let net = 0; net < 60; net++) {
    const nodes = random.integer(2, 14);
    const leaving: Edge[][] = Array.from({ length: nodes }, () => []);
    const all = Array.from({ length: random.integer(1, 30) }, () => {
      const [from, to] = [random.integer(0, nodes - 1), random.integer(0, nodes - 1)];
      return { from, to, metres: random.integer(0, 9), way: null, wayM: 0, isGround: random.chance(0.2), line: [] };
    });
    for (const edge of all) leaving[edge.from]!.push(edge);
    const minutesOf = ({ metres, isGround }: Edge): number | null => (isGround ? null : metres);
    const expected = Array.from({ length: nodes }, (_, node) => (node === 0 ? 0 : Number.POSITIVE_INFINITY));
    for (let round = 0; round < nodes; round++)
      for (const edge of all)
        if (!edge.isGround) expected[edge.to] = Math.min(expected[edge.to]!, expected[edge.from]! + edge.metres);
    const found = quickestFrom(leaving, 0, minutesOf);
    expect(expected.map((_, node) => found.get(node)?.minutes ?? Number.POSITIVE_INFINITY)).toEqual(expected);
  }
});
