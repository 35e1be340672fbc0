import { describe, expect, it } from 'vitest';
import { EBBSTONE } from '../../../../demo/circuit/ebbstone.js';
import { gpxOf, recordLaps } from '../../../../demo/circuit/recordLaps.js';
import { seededRandom } from '../../numeric/random.js';
import { writeCircuit } from './file/writeCircuit.js';
import { readBrought } from './readBrought.js';
import { layTrack } from './track.js';

const ABOUT = { name: 'Ebbstone', zone: 'Europe/London' };
const DRIVE = { laps: 1, speed: 20, from: 0.1, on: 0.05, walksToCar: false };
const places = recordLaps(EBBSTONE.centreline, DRIVE, { errorM: 3, lasting: 0.95 }, seededRandom(7));

describe('a file brought in', () => {
  it('PL116: a lap of a phone becomes a circuit of about its length, in either format', () => {
    const geojson = JSON.stringify({
      type: 'Feature',
      properties: {},
      geometry: {
        type: 'LineString',
        coordinates: places.map(({ longitudeDeg, latitudeDeg }) => [longitudeDeg, latitudeDeg]),
      },
    });
    const trueM = layTrack(EBBSTONE).lengthM;
    for (const text of [gpxOf(places), `\uFEFF${gpxOf(places)}`, geojson]) {
      const { kind, circuit, sentence } = readBrought(text, ABOUT);
      expect([kind, circuit?.name, circuit?.direction]).toEqual(['recorded', 'Ebbstone', EBBSTONE.direction]);
      expect(Math.abs(layTrack(circuit!).lengthM / trueM - 1)).toBeLessThan(0.02);
      expect(sentence).toMatch(/^one lap of about \d+ m, clockwise/);
    }
  });

  it('PL116: a circuit drawn before comes with all that was drawn, under its own name', () => {
    const brought = readBrought(writeCircuit(EBBSTONE), { name: 'Elsewhere', zone: 'UTC' });
    expect(brought).toEqual({ kind: 'drawn', sentence: '', circuit: EBBSTONE, problems: [] });
  });

  it('PL116: latitude before longitude is turned and told, a line that crosses itself is told with its place', () => {
    const swapped = JSON.parse(writeCircuit(EBBSTONE)) as { features: { geometry: { coordinates: unknown } }[] };
    const turn = (value: unknown): unknown =>
      Array.isArray(value) && typeof value[0] === 'number' ? [value[1], value[0]] : (value as unknown[]).map(turn);
    const spot = swapped.features.find((one) => JSON.stringify(one).includes('"role":"spot"'))!;
    spot.geometry.coordinates = turn(spot.geometry.coordinates);
    const [told] = readBrought(JSON.stringify(swapped), ABOUT).problems;
    expect(told).toMatchObject({ kind: 'swapped', at: [EBBSTONE.spots[0]!.place] });

    const crossed = { ...EBBSTONE, centreline: EBBSTONE.centreline.with(10, EBBSTONE.centreline[200]!) };
    const problems = readBrought(writeCircuit(crossed), ABOUT).problems;
    expect(problems.map(({ kind }) => kind)).toContain('crosses-itself');
    expect(problems.find(({ kind }) => kind === 'crosses-itself')!.at.length).toBeGreaterThan(0);
  });

  it('PL109: of a day of laps as many are found, and the line is as good', () => {
    const laps = 110;
    const long = recordLaps(EBBSTONE.centreline, { ...DRIVE, laps }, { errorM: 3, lasting: 0.95 }, seededRandom(8));
    const { circuit, sentence } = readBrought(gpxOf(long), ABOUT);
    expect(Math.abs(layTrack(circuit!).lengthM / layTrack(EBBSTONE).lengthM - 1)).toBeLessThan(0.01);
    expect(Number(/^(\d+) laps/.exec(sentence)?.[1])).toBeGreaterThanOrEqual(laps - 2);
  });

  it('PL108: of a GPX file, where lat and lon have names, that is what is to be exchanged', () => {
    const swapped = gpxOf(places).replace(/lat="([^"]*)" lon="([^"]*)"/g, 'lat="$2" lon="$1"');
    const { problems } = readBrought(swapped, { name: 'Ring', zone: 'Europe/London' });
    const told = problems.find(({ kind }) => kind === 'swapped');
    expect(told?.sentence ?? '').toContain('exchange the values of lat and lon in the GPX file');
  });

  it('PL123: whoever knows that they are swapped has them exchanged, in either format; what is no file stays none', () => {
    const swapped = gpxOf(places).replace(/lat="([^"]*)" lon="([^"]*)"/g, 'lat="$2" lon="$1"');
    const asIs = readBrought(gpxOf(places), ABOUT);
    expect(readBrought(swapped, { ...ABOUT, isTurned: true })).toEqual(asIs);
    const drawn = JSON.parse(writeCircuit(EBBSTONE)) as { features: { geometry: { coordinates: unknown } }[] };
    const turn = (value: unknown): unknown =>
      Array.isArray(value) && typeof value[0] === 'number' ? [value[1], value[0]] : (value as unknown[]).map(turn);
    for (const { geometry } of drawn.features) geometry.coordinates = turn(geometry.coordinates);
    expect(readBrought(JSON.stringify(drawn), { ...ABOUT, isTurned: true })).toMatchObject({
      circuit: EBBSTONE,
      problems: [],
    });
    expect(readBrought('a note', { ...ABOUT, isTurned: true })).toEqual(readBrought('a note', ABOUT));
  });

  it('PL123: how far the reading of a long recording is, is told, and never goes back', () => {
    const shares: number[] = [];
    const long = recordLaps(EBBSTONE.centreline, { ...DRIVE, laps: 60 }, { errorM: 3, lasting: 0.95 }, seededRandom(8));
    readBrought(gpxOf(long), ABOUT, (share) => shares.push(share));
    expect(shares).toEqual(shares.toSorted((a, b) => a - b));
    expect(shares.filter((share) => share < 0.4).length).toBeGreaterThan(0);
    expect(shares.filter((share) => share >= 0.4).length).toBeGreaterThan(20);
    expect(shares.at(-1)).toBeLessThan(1);
  });

  it('PL109: points are read with whatever stands in and about them', () => {
    let i = 0;
    const points = gpxOf(places).replace(
      /<trkpt lat="([^"]*)" lon="([^"]*)"\s*(?:\/>|>.*?<\/trkpt>)/g,
      (_, lat, lon) =>
        i++ % 2 === 0
          ? `<g:trkpt lon='${lon}'\n lat = "${lat}"><g:ele>3</g:ele><g:extensions><hr>90</hr></g:extensions></g:trkpt>`
          : `<g:trkpt lat="${lat}" lon="${lon}" /><!-- lost for a moment -->`,
    );
    expect(i).toBe(places.length);
    const dressed = points.replace(/<(\/?)(gpx|trk|trkseg)\b/g, '<$1g:$2');
    expect(readBrought(dressed, ABOUT)).toEqual(readBrought(gpxOf(places), ABOUT));
  });

  it.each([
    ['', /^Expected a circuit .* but the file is empty\./],
    ['a note', /^Expected a GeoJSON file, but it is not JSON/],
    ['<svg></svg>', /^Expected a GPX file, but found other XML/],
    ['{"type":"FeatureCollection","features":[]}', /^Expected a LineString in the GeoJSON file/],
    [gpxOf(places.slice(0, 40)), /^Expected a lap that comes round to where it began/],
  ])('PL116: of anything else nothing is made, and it is said why: %.30s', (text, sentence) => {
    const { circuit, problems } = readBrought(text, ABOUT);
    expect(circuit).toBeNull();
    expect(problems[0]!.sentence).toMatch(sentence);
  });
});
