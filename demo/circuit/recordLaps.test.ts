import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../src/core/numeric/random.js';
import { circuitFromRecording } from '../../src/core/plan/circuit/recording/circuitFromRecording.js';
import { layTrack, nearestOnTrack, pointAlong, pointOf } from '../../src/core/plan/circuit/track.js';
import type { Circuit, Place } from '../../src/core/plan/circuit/types.js';
import { EBBSTONE } from './ebbstone.js';
import { type Drive, gpxOf, type Receiver, recordLaps } from './recordLaps.js';

const truth = layTrack(EBBSTONE);
const NEW = { name: 'Recorded', zone: 'Europe/London' };
const usual: Drive = { laps: 3, speed: 22, from: 0.3, on: 0.15, walksToCar: true };
const record = (drive: Partial<Drive>, receiver: Receiver, seed: number): Place[] =>
  recordLaps(EBBSTONE.centreline, { ...usual, ...drive }, receiver, seededRandom(seed));

/** Of the line from the true one: its length as a share, and metres in the mean, looked at every five metres. */
function errorOf(circuit: Circuit): { lengthShare: number; meanM: number; looks: number } {
  const track = layTrack(circuit);
  const looks = Math.floor(track.lengthM / 5);
  let sum = 0;
  for (let i = 0; i < looks; i++) {
    const place = track.plane.toPlace(pointAlong(track, 5 * i)) as Place;
    sum += nearestOnTrack(truth, pointOf(truth.plane, place)).distanceM;
  }
  return { lengthShare: Math.abs(track.lengthM / truth.lengthM - 1), meanM: sum / looks, looks };
}

/** From two laps on. A lone lap that drifts is as wrong as its receiver: nothing in it tells. */
const WITHIN = { lengthShare: 0.01, meanM: 3 };

describe('laps recorded on a phone', () => {
  const cases = [1, 2].flatMap((seed) =>
    [
      { laps: 2, speed: 22, errorM: 3, lasting: 0.9 },
      { laps: 3, speed: 22, errorM: 5, lasting: 0 },
      { laps: 5, speed: 22, errorM: 5, lasting: 0.9 },
      { laps: 4, speed: 12, errorM: 4, lasting: 0.97 },
      { laps: 2, speed: 1.5, errorM: 3, lasting: 0 },
    ].map((one) => ({ ...one, seed })),
  );
  test.each(cases)(
    'PL109: $laps laps at $speed m/s, errors of $errorM m that last $lasting, seed $seed: within 1 % and 3 m',
    (one) => {
      const { laps, speed, seed } = one;
      const { circuit, problems, sentence } = circuitFromRecording(gpxOf(record({ laps, speed }, one, seed)), NEW);
      expect(problems).toEqual([]);
      const error = errorOf(circuit!);
      expect(error.looks).toBeGreaterThan(780);
      expect(error.lengthShare).toBeLessThan(WITHIN.lengthShare);
      expect(error.meanM).toBeLessThan(WITHIN.meanM);
      expect(circuit!.direction).toBe('clockwise');
      expect(circuit!.bends).toHaveLength(EBBSTONE.bends.length);
      expect(sentence).toMatch(new RegExp(`^${laps} laps of about \\d{4} m, clockwise`));
    },
  );

  test('PL109: one lap is enough, with its errors said', () => {
    const places = record({ laps: 1, on: 0.05 }, { errorM: 3, lasting: 0 }, 7);
    const { circuit, sentence } = circuitFromRecording(gpxOf(places), NEW);
    expect(errorOf(circuit!).lengthShare).toBeLessThan(WITHIN.lengthShare);
    expect(errorOf(circuit!).meanM).toBeLessThan(WITHIN.meanM);
    expect(sentence).toMatch(/^one lap .* errs as the recording does/);
  });

  test('PL109: one lap that ends where it began, as a line of a GIS, is a circuit; its points stand about ten metres apart', () => {
    const coordinates = EBBSTONE.centreline.map(({ longitudeDeg, latitudeDeg }) => [longitudeDeg, latitudeDeg]);
    const text = JSON.stringify({ type: 'LineString', coordinates });
    const { circuit, problems } = circuitFromRecording(text, NEW);
    // Nothing but the guess of where the van stands: the line ends on the track.
    expect(problems.map(({ kind }) => kind)).toEqual(['paddock-on-track']);
    expect(errorOf(circuit!)).toMatchObject({ lengthShare: expect.closeTo(0, 2) });
    expect(errorOf(circuit!).meanM).toBeLessThan(0.5);
    const spacing = layTrack(circuit!).lengthM / circuit!.centreline.length;
    expect(Math.abs(spacing - 10)).toBeLessThan(0.2);
  });

  test('PL109: driven the other way round it runs anticlockwise; the paddock stands where the recording ends', () => {
    const places = record({ laps: 2 }, { errorM: 3, lasting: 0 }, 2).reverse();
    const { circuit } = circuitFromRecording(gpxOf(places), NEW);
    expect(circuit!.direction).toBe('anticlockwise');
    expect(circuit!.paddock.latitudeDeg).toBeCloseTo(places.at(-1)!.latitudeDeg, 6);
  });

  test('PL109: a receiver that begins a new track every lap gives all of them', () => {
    const places = record({ laps: 3, walksToCar: false }, { errorM: 4, lasting: 0 }, 3);
    const cut = places.length / 3;
    const tracks = [0, 1, 2].map((i) => gpxOf(places.slice(Math.floor(i * cut), Math.floor((i + 1) * cut))));
    const text = `<gpx>${tracks.map((one) => /<trk>[\s\S]*<\/trk>/.exec(one)![0]).join('')}</gpx>`;
    expect(circuitFromRecording(text, NEW).sentence).toMatch(/^[23] laps/);
  });

  test('PL109: a line that passes over itself keeps both ways over; the crossing is shown until a bridge is said', () => {
    for (const [width, height] of [
      [0.009, 0.004],
      [0.004, 0.009],
    ] as const) {
      const eight = Array.from({ length: 300 }, (_, i) => {
        const t = (2 * Math.PI * i) / 300;
        return { longitudeDeg: 2.4 + width * Math.sin(t), latitudeDeg: 55 + height * Math.sin(2 * t) } as Place;
      });
      const places = recordLaps(
        eight,
        { ...usual, from: 0.45, on: 0.6, speed: 15, laps: 2 },
        { errorM: 3, lasting: 0.9 },
        seededRandom(4),
      );
      const { circuit, problems } = circuitFromRecording(gpxOf(places), NEW);
      expect(problems).toMatchObject([{ kind: 'crosses-itself', at: [{ latitudeDeg: expect.closeTo(55, 3) }] }]);
      const share = layTrack(circuit!).lengthM / layTrack({ centreline: eight }).lengthM;
      expect(Math.abs(share - 1)).toBeLessThan(WITHIN.lengthShare);
    }
  });

  test('PL109: a route of GPX is taken, too', () => {
    const route = gpxOf(EBBSTONE.centreline)
      .replaceAll('trkpt', 'rtept')
      .replace('<trk>', '<rte>')
      .replace('</trk>', '</rte>');
    const { circuit } = circuitFromRecording(route.replace('<trkseg>', '').replace('</trkseg>', ''), NEW);
    expect(errorOf(circuit!).meanM).toBeLessThan(0.5);
  });
});

describe('recordings that give no circuit say why', () => {
  const half = record({ laps: 0, on: 0.6 }, { errorM: 3, lasting: 0 }, 1);

  test('PL109: no place passed twice', () => {
    const { circuit, problems } = circuitFromRecording(gpxOf(half), NEW);
    expect(circuit).toBeNull();
    expect(problems).toMatchObject([{ kind: 'no-lap' }]);
    expect(problems[0]!.at).toHaveLength(2);
    expect(problems[0]!.sentence).toMatch(/passes no place twice in one direction.*a little more/);
  });

  test('PL109: out along a road and back is no lap', () => {
    const out = Array.from({ length: 100 }, (_, i) => ({ latitudeDeg: 55, longitudeDeg: 2.4 + i / 5000 }) as Place);
    const back = out
      .toReversed()
      .slice(0, 70)
      .map((place) => ({ ...place, latitudeDeg: 55.00005 }) as Place);
    expect(circuitFromRecording(gpxOf([...out, ...back]), NEW).problems).toMatchObject([{ kind: 'no-lap' }]);
  });

  test('PL109: a journey over half a country is none', () => {
    const journey = Array.from({ length: 5000 }, (_, i) => ({ latitudeDeg: 50 + i / 1000, longitudeDeg: 2 }) as Place);
    const { circuit, problems } = circuitFromRecording(gpxOf([...journey, ...journey]), NEW);
    expect([circuit, problems[0]!.kind]).toEqual([null, 'no-lap']);
  });

  test('PL109: a line recorded with latitude first speaks against its zone', () => {
    const coordinates = EBBSTONE.centreline.map(({ longitudeDeg, latitudeDeg }) => [latitudeDeg, longitudeDeg]);
    const { problems } = circuitFromRecording(JSON.stringify({ type: 'LineString', coordinates }), NEW);
    expect(problems.map(({ kind }) => kind)).toContain('swapped');
  });

  test.each([
    ['<kml><Document/></kml>', /Expected a GPX file, but found other XML/],
    ['<gpx version="1.1"><trk><trkseg>', /Expected/],
    ['<gpx version="1.1"><trk><trkseg/></trk></gpx>', /three points and more in the GPX file, but found none/],
    ['{"type":"Point","coordinates":[2.4,55]}', /Expected a LineString/],
    ['lat,lon\n55,2.4', /it is not JSON/],
    ['', /it is not JSON/],
  ])('PL109: %s', (text, sentence) => {
    const { circuit, problems } = circuitFromRecording(text, NEW);
    expect(circuit).toBeNull();
    expect(problems.map((problem) => problem.sentence).join('\n')).toMatch(sentence);
  });

  test('PL109: points without a place are counted and left out, the rest is read', () => {
    const places = record({ laps: 2 }, { errorM: 3, lasting: 0 }, 2);
    const text = gpxOf(places)
      .replace(/lat="[^"]*"/, 'lat="north"')
      .replace(/(lon="[^"]*".*\n<trkpt )lat="[^"]*"/, '$1lat="95"');
    const { circuit, problems } = circuitFromRecording(text, NEW);
    expect(circuit).not.toBeNull();
    expect(problems[0]!.sentence).toMatch(/^2 points of the GPX file were left out/);
  });

  test('PL109: entities of XML are not put in', () => {
    const bomb = `<!DOCTYPE gpx [<!ENTITY a "55"><!ENTITY b "&a;&a;&a;">]><gpx><trk><trkseg>${'<trkpt lat="&b;" lon="2"/>'.repeat(5)}</trkseg></trk></gpx>`;
    const { circuit, problems } = circuitFromRecording(bomb, NEW);
    expect(circuit).toBeNull();
    expect(problems.length).toBeGreaterThan(0);
  });
});
