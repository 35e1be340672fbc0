import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { SpotId } from '../../../ids.js';
import { degreesOf, metresOf, millisecondsOf } from '../../../units.js';
import { at, circle, circuitOf, rectangle, spotAt, wayAlong } from '../testing/shapes.js';
import type { Bend, Circuit, CircuitSpot, Place, Way } from '../types.js';
import { type ReadOptions, readCircuit } from './readCircuit.js';
import { writeCircuit } from './writeCircuit.js';

interface LooseFeature {
  type: string;
  properties: Record<string, unknown> | null;
  geometry: { type: string; coordinates: unknown } | null;
}

const whole = circuitOf(rectangle(800, 400), {
  paddock: at(0, 260),
  spots: [spotAt('beacon', 100, 230, 180), spotAt('gannet', 0, 170, 0, 2)],
  ways: [
    wayAlong('north', [
      [0, 255],
      [110, 232],
    ]),
    wayAlong(
      'under',
      [
        [0, 255],
        [0, 172],
      ],
      { crossing: 'tunnel' },
    ),
  ],
});

/** The file of a good circuit with something changed in it, and what reading says. */
function readChanged(change: (features: LooseFeature[]) => unknown, options: ReadOptions = {}, circuit = whole) {
  const root = JSON.parse(writeCircuit(circuit)) as { features: LooseFeature[] };
  const features = change(root.features);
  const text = JSON.stringify(Array.isArray(features) ? { ...root, features } : root);
  const read = readCircuit(text, options);
  return { ...read, kinds: read.problems.map(({ kind }) => kind) };
}
const roleOf = (feature: LooseFeature): unknown => feature.properties?.role;
const find = (features: LooseFeature[], role: string): LooseFeature =>
  features.find((feature) => roleOf(feature) === role)!;
const swapAll = (value: unknown): unknown =>
  Array.isArray(value) && typeof value[0] === 'number' ? [value[1], value[0]] : (value as unknown[]).map(swapAll);

describe('a good circuit file', () => {
  test('PL108: has no problems, and is standard GeoJSON: a FeatureCollection of Features, longitude first', () => {
    const { kinds } = readChanged(() => null);
    expect(kinds).toEqual([]);
    const root = JSON.parse(writeCircuit(whole));
    expect(root.type).toBe('FeatureCollection');
    for (const { type, geometry } of root.features) {
      expect(type).toBe('Feature');
      expect(['Point', 'LineString']).toContain(geometry.type);
    }
    const [longitude, latitude] = root.features[0].geometry.coordinates[0];
    expect([Math.round(longitude * 10), Math.round(latitude)]).toEqual([24, 55]);
    expect(root.features[0].geometry.coordinates.at(-1)).toEqual(root.features[0].geometry.coordinates[0]);
  });

  test('PL108: reading what was written gives the circuit back', () => {
    fc.assert(
      fc.property(anyCircuit, (circuit) => {
        expect(readCircuit(writeCircuit(circuit)).circuit).toEqual(circuit);
      }),
      { numRuns: 60 },
    );
  });

  test('PL108: heights as third numbers, a byte order mark and null members are let pass', () => {
    const { circuit, kinds } = readChanged((features) => {
      const line = find(features, 'centreline').geometry!;
      line.coordinates = (line.coordinates as number[][]).map((pair) => [...pair, 12.5]);
      find(features, 'spot').properties!.caution = null;
    });
    expect([circuit, kinds]).toEqual([whole, []]);
    expect(readCircuit(`\uFEFF${writeCircuit(whole)}`).circuit).toEqual(whole);
  });
});

describe('what is wrong with a file is said and shown', () => {
  const places = (n: number) => expect.objectContaining({ length: n });

  test.each([
    ['{"type": "Feature', /it is not JSON/],
    ['[1, 2]', /FeatureCollection, but found \[1,2\]/],
    ['"words"', /FeatureCollection/],
    ['{"type":"Topology"}', /found type "Topology"/],
  ])('PL105: %s is no circuit file', (text, sentence) => {
    const { circuit, problems } = readCircuit(text);
    expect(circuit).toBeNull();
    expect(problems).toEqual([expect.objectContaining({ kind: 'not-a-circuit-file', at: [] })]);
    expect(problems[0]!.sentence).toMatch(sentence);
  });

  test('PL105: no centreline', () => {
    const { circuit, problems } = readChanged((features) => features.filter((one) => roleOf(one) !== 'centreline'));
    expect(circuit).toBeNull();
    expect(problems[0]).toMatchObject({ kind: 'no-centreline', at: places(1) });
    expect(problems[0]!.sentence).toMatch(/"role" is "centreline".*bring the file in as a recording/);
  });

  test('PL105: an open line is closed, and that is said with its gap', () => {
    const { circuit, problems } = readChanged((features) => {
      (find(features, 'centreline').geometry!.coordinates as unknown[]).splice(-4);
    });
    expect(circuit!.centreline).toHaveLength(whole.centreline.length - 3);
    expect(problems).toMatchObject([{ kind: 'closed-by-us', at: places(2) }]);
    expect(problems[0]!.sentence).toMatch(/ends 40 m from where it begins/);
  });

  test('PL105: drawn against its direction', () => {
    const { circuit, problems } = readChanged((features) => {
      find(features, 'centreline').properties!.direction = 'anticlockwise';
    });
    expect(problems).toMatchObject([{ kind: 'against-direction', at: places(2) }]);
    expect(problems[0]!.sentence).toMatch(/drawn clockwise, but the circuit is said to run anticlockwise/);
    expect(circuit!.direction).toBe('anticlockwise');
  });

  test('PL105: every place where the line crosses itself is shown; a bridge may be said', () => {
    const ring = [
      [0, 0],
      [600, 400],
      [1200, 0],
      [1200, 400],
      [600, 0],
      [0, 400],
    ].map(([x, y]) => ({ x: x!, y: y! }));
    const eight = circuitOf(ring, { direction: 'clockwise', paddock: at(-60, 200) });
    const { problems } = readCircuit(writeCircuit(eight));
    const crossing = problems.find(({ kind }) => kind === 'crosses-itself')!;
    expect(crossing.at).toHaveLength(2);
    expect(crossing.sentence).toMatch(/crosses itself at 2 places/);
    const said = readCircuit(writeCircuit({ ...eight, overItself: [crossing.at[0]!] })).problems;
    expect(said.find(({ kind }) => kind === 'crosses-itself')!.at).toEqual([crossing.at[1]]);
    const both = readCircuit(writeCircuit({ ...eight, overItself: crossing.at })).problems;
    expect(both.map(({ kind }) => kind)).not.toContain('crosses-itself');
  });

  test('PL105: a spot on the track, one far off, and one that sees no track', () => {
    const spots = [spotAt('on', 0, 203, 0), spotAt('far', 0, 620, 180, 2), spotAt('blind', 0, 230, 0, 3)];
    const { problems } = readCircuit(writeCircuit({ ...whole, spots, ways: [] }));
    expect(problems.map(({ kind }) => kind)).toEqual(['spot-on-track', 'spot-far-off', 'view-misses']);
    problems.forEach((problem, i) => {
      expect(problem.at).toEqual([spots[i]!.place]);
    });
    expect(problems[0]!.sentence).toMatch(/Spot 1, on, stands on the track: 3 m from its middle/);
    expect(problems[1]!.sentence).toMatch(/420 m from the track; expected at most 400 m/);
  });

  test('PL105: a way that meets the track is shown where it does, unless it has a bridge or a tunnel', () => {
    const over = wayAlong('over', [
      [0, 255],
      [0, -255],
    ]);
    const { problems } = readCircuit(writeCircuit({ ...whole, ways: [over] }));
    expect(problems).toMatchObject([{ kind: 'way-on-track', at: places(2) }]);
    const bridged = readCircuit(writeCircuit({ ...whole, ways: [{ ...over, crossing: 'bridge' }] }));
    expect(bridged.problems).toEqual([]);
  });

  test('PL105: a line of a length that no circuit has', () => {
    const tiny = circuitOf(circle(20, 5), { paddock: at(0, 60) });
    const { problems } = readCircuit(writeCircuit(tiny));
    expect(problems).toMatchObject([{ kind: 'odd-length', at: places(1) }]);
    expect(problems[0]!.sentence).toMatch(/is 125 m round; expected a circuit of 300 m to 30 km/);
  });

  test('PL105: a way that joins nothing', () => {
    const { kinds } = readChanged(
      () => null,
      {},
      {
        ...whole,
        ways: [
          wayAlong('lost', [
            [-300, 260],
            [-200, 260],
          ]),
        ],
      },
    );
    expect(kinds).toEqual(['way-joins-nothing']);
  });

  test('PL105: repeated ids and numbers are given anew, and nothing is lost', () => {
    const { circuit, kinds } = readChanged((features) => {
      const spots = features.filter((one) => roleOf(one) === 'spot');
      Object.assign(spots[1]!.properties!, { id: 'beacon', number: 1 });
      const ways = features.filter((one) => roleOf(one) === 'way');
      ways[1]!.properties!.id = 'north';
    });
    expect(kinds).toEqual(['repeated', 'repeated', 'repeated']);
    expect(circuit!.spots.map(({ id, number }) => [id, number])).toEqual([
      ['beacon', 1],
      ['beacon-2', 2],
    ]);
    expect(circuit!.ways.map(({ id }) => id)).toEqual(['north', 'north-2']);
  });

  test('PL105: a bend moved on a map goes where it was moved to', () => {
    const bends = [{ name: 'Hawser', alongM: metresOf(800) }];
    const { circuit, problems } = readChanged(
      (features) => {
        const { longitudeDeg, latitudeDeg } = at(0, 200);
        find(features, 'bend').geometry!.coordinates = [longitudeDeg, latitudeDeg];
      },
      {},
      { ...whole, bends },
    );
    expect(circuit!.bends[0]!.alongM).toBeCloseTo(400, 0);
    expect(problems[0]!.sentence).toMatch(/Hawser .* is written 800 m along the line but drawn at 400 m/);
  });

  test.each(['Europe/Atlantis', '+01:00', '', 7])('PL105: %s is no zone', (zone) => {
    const { circuit, problems } = readChanged((features) => {
      find(features, 'centreline').properties!.zone = zone;
    });
    expect(circuit!.zone).toBe('UTC');
    expect(problems).toHaveLength(1);
    expect(problems[0]!.sentence).toMatch(/Europe\/London/);
  });

  test('PL105: wrong and missing members are said one by one, and the rest of the spot stays', () => {
    const { circuit, problems } = readChanged((features) => {
      const spot = find(features, 'spot');
      Object.assign(spot.properties!, { heightM: 'high', aspect: 'sideways', focalMm: [400, 100], hasShade: true });
      delete spot.properties!.viewAzimuthDeg;
      find(features, 'paddock').properties!.role = 'car park';
    });
    expect(circuit!.spots[0]).toMatchObject({ id: 'beacon', viewAzimuthDeg: 0, hasShade: true });
    expect(circuit!.spots[0]).not.toHaveProperty('heightM');
    const sentences = problems.map(({ sentence }) => sentence).join('\n');
    expect(sentences).toMatch(
      /heightM of the spot beacon \(features\[\d\]\.properties\) to be a number of metres from -50 to 200, but found "high"/,
    );
    expect(sentences).toMatch(/aspect .* head-on, three-quarter, side-on, going-away, but found "sideways"/);
    expect(sentences).toMatch(/focalMm/);
    expect(sentences).toMatch(/viewAzimuthDeg .* but it is missing; it looks north/);
    expect(sentences).toMatch(/"role" is "paddock".*the start line stands for it/);
  });

  test('PL105: features that cannot be read are left out by name, the others are read', () => {
    const { circuit, problems } = readChanged((features) => {
      find(features, 'spot').geometry = { type: 'Point', coordinates: ['2.4', 55] };
      return [
        ...features,
        { type: 'Feature', properties: {}, geometry: null },
        7,
        { type: 'Feature', properties: null, geometry: { type: 'Polygon', coordinates: [] } },
      ];
    });
    expect(circuit!.spots.map(({ id }) => id)).toEqual(['gannet']);
    expect(problems.filter(({ kind }) => kind === 'left-out')).toHaveLength(4);
    expect(problems[0]!.sentence).toMatch(
      /features\[3\] was left out: .* longitude and latitude in degrees, but found \["2.4",55\]/,
    );
  });

  test('PL105: whatever the text, reading throws nothing', () => {
    const role = fc.constantFrom('centreline', 'spot', 'way', 'bend', 'paddock');
    const feature = fc.record({
      type: fc.constant('Feature'),
      properties: fc.oneof(fc.jsonValue(), fc.record({ role, id: fc.jsonValue(), number: fc.jsonValue() })),
      geometry: fc.oneof(
        fc.jsonValue(),
        fc.record({ type: fc.constantFrom('Point', 'LineString'), coordinates: fc.jsonValue() }),
        fc.record({
          type: fc.constant('LineString'),
          coordinates: fc.array(fc.tuple(fc.integer({ min: -200, max: 200 }), fc.integer({ min: -100, max: 100 }))),
        }),
      ),
    });
    const text = fc.oneof(
      fc.string(),
      fc.json(),
      fc
        .record({ type: fc.constant('FeatureCollection'), features: fc.array(feature) })
        .map((one) => JSON.stringify(one)),
    );
    fc.assert(
      fc.property(text, (some) => {
        const { circuit, problems } = readCircuit(some);
        expect(circuit !== null || problems.length > 0).toBe(true);
      }),
      { numRuns: 300 },
    );
  });
});

describe('latitude and longitude the wrong way round', () => {
  const swapped = (features: LooseFeature[]): void => {
    for (const { geometry } of features) geometry!.coordinates = swapAll(geometry!.coordinates);
  };

  test('PL108: where the latitude would be above 90° the whole file is read the other way round', () => {
    const eastwards = (place: Place): Place => ({ ...place, longitudeDeg: degreesOf(place.longitudeDeg + 130) });
    const east: Circuit = {
      ...whole,
      zone: 'Asia/Tokyo',
      ways: [],
      spots: [],
      centreline: whole.centreline.map(eastwards),
      paddock: eastwards(whole.paddock),
    };
    const { circuit, problems } = readChanged(swapped, {}, east);
    expect(circuit).toEqual(east);
    expect(problems).toMatchObject([{ kind: 'swapped', at: [{ latitudeDeg: expect.closeTo(55, 1) }] }]);
  });

  test('PL108: where a place the person knows tells it, the whole file is read the other way round', () => {
    const near = { longitudeDeg: degreesOf(-1.2), latitudeDeg: degreesOf(52.1) };
    const { circuit, kinds } = readChanged(swapped, { near });
    expect([circuit, kinds]).toEqual([whole, ['swapped']]);
    expect(readChanged(() => null, { near }).kinds).toEqual([]);
  });

  test('PL108: one spot swapped among right ones is turned and shown', () => {
    const { circuit, problems } = readChanged((features) => {
      const { geometry } = find(features, 'spot');
      geometry!.coordinates = swapAll(geometry!.coordinates);
    });
    expect(circuit).toEqual(whole);
    expect(problems).toMatchObject([{ kind: 'swapped', at: [whole.spots[0]!.place] }]);
  });

  test('PL108: where only the zone speaks against it, that is said and nothing is changed', () => {
    const { circuit, problems } = readChanged(swapped);
    expect(circuit!.centreline[0]!.latitudeDeg).toBeCloseTo(2.4, 0);
    expect(problems.find(({ kind }) => kind === 'swapped')!.sentence).toMatch(/Europe\/London.*Nothing was changed/);
  });
});

/* Circuits of any shape: rings of few points about a circle, whose coordinates survive as they are. */
const place: fc.Arbitrary<Place> = fc
  .tuple(fc.double({ min: -700, max: 700, noNaN: true }), fc.double({ min: -700, max: 700, noNaN: true }))
  .map(([x, y]) => at(x, y));
const words = fc.string({ minLength: 1 }).filter((text) => text.trim() !== '');
const spot = fc.record(
  {
    name: words,
    place,
    viewAzimuthDeg: fc.double({ min: 0, max: 360, noNaN: true }).map((deg) => degreesOf(deg + 0)),
    heightM: fc.integer({ min: -20, max: 90 }).map(metresOf),
    distanceM: fc.integer({ min: 1, max: 300 }).map(metresOf),
    aspect: fc.constantFrom('head-on', 'three-quarter', 'side-on', 'going-away'),
    sideSeen: fc.constantFrom('left', 'right', 'both'),
    moments: fc.subarray(['entry', 'apex', 'exit', 'straight'] as const),
    needsPermit: fc.boolean(),
    hasShade: fc.boolean(),
    focalMm: fc.tuple(fc.integer({ min: 20, max: 200 }), fc.integer({ min: 200, max: 800 })),
    caution: words,
  },
  { requiredKeys: ['name', 'place', 'viewAzimuthDeg'] },
);
const access = fc.constantFrom('anyone', 'with-permit', 'nobody');
const way = fc.record(
  {
    line: fc.array(place, { minLength: 2, maxLength: 5 }),
    kind: fc.constantFrom('path', 'service-road'),
    crossing: fc.constantFrom('none', 'bridge', 'tunnel'),
    onFoot: access,
    byVehicle: access,
    saidMinutes: fc.record({ onFoot: fc.integer({ min: 1, max: 30 }) }),
  },
  { requiredKeys: ['line', 'kind', 'crossing', 'onFoot', 'byVehicle'] },
);
const anyCircuit = fc.record(
  {
    name: words,
    zone: fc.constantFrom('Europe/London', 'UTC', 'Asia/Tokyo'),
    direction: fc.constantFrom('clockwise', 'anticlockwise'),
    centreline: fc.integer({ min: 80, max: 400 }).map((radius) => circle(radius, 60).map(({ x, y }) => at(x, y))),
    widthM: fc.integer({ min: 8, max: 15 }).map(metresOf),
    overItself: fc.array(place, { maxLength: 2 }),
    bends: fc.array(
      fc.record({
        name: words,
        alongM: fc.double({ min: 0, max: 400, noNaN: true }).map((along) => metresOf(along + 0)),
      }),
      { maxLength: 4 },
    ) as fc.Arbitrary<Bend[]>,
    ways: fc.array(way, { maxLength: 4 }).map((ways) => ways.map((one, i) => ({ id: `way-${i}`, ...one }) as Way)),
    spots: fc
      .array(spot, { maxLength: 5 })
      .map((spots) => spots.map((one, i) => ({ id: `spot-${i}` as SpotId, number: i + 1, ...one }) as CircuitSpot)),
    paddock: place,
    lapRecordMs: fc.integer({ min: 40_000, max: 200_000 }).map(millisecondsOf),
  },
  { requiredKeys: ['name', 'zone', 'direction', 'centreline', 'bends', 'ways', 'spots', 'paddock'] },
) as fc.Arbitrary<Circuit>;
