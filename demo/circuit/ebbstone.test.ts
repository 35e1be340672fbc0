import { describe, expect, test } from 'vitest';
import { turnOf } from '../../src/core/plan/circuit/angles.js';
import { readCircuit } from '../../src/core/plan/circuit/file/readCircuit.js';
import { writeCircuit } from '../../src/core/plan/circuit/file/writeCircuit.js';
import { viewOf } from '../../src/core/plan/circuit/spotView.js';
import { layTrack, radiusAt } from '../../src/core/plan/circuit/track.js';
import { minutesBetween } from '../../src/core/plan/circuit/ways/legs.js';
import { LAP_SHARE, MEETING, SPOTS } from '../day/meeting.js';
import { EBBSTONE, EBBSTONE_LAID } from './ebbstone.js';

const track = layTrack(EBBSTONE);

describe('the invented circuit', () => {
  test('its file has no problems, and reads back as it is', async () => {
    const text = writeCircuit(EBBSTONE);
    expect(readCircuit(text)).toEqual({ circuit: EBBSTONE, problems: [] });
    await expect(text).toMatchFileSnapshot('ebbstone.geojson');
  });

  test('is the invented meeting’s: its name, its zone, its first three spots about where its laps put them', () => {
    expect([EBBSTONE.name, EBBSTONE.zone]).toEqual([MEETING.circuit, MEETING.zone]);
    expect(EBBSTONE.spots.slice(0, 3)).toMatchObject(SPOTS);
    expect(EBBSTONE.spots.map(({ number }) => number)).toEqual([1, 2, 3, 4, 5, 6, 7, 8]);
    for (const { id } of SPOTS) {
      const view = viewOf(EBBSTONE, EBBSTONE.spots.find((spot) => spot.id === (id as string))!)!;
      expect(Math.abs(view.alongM / track.lengthM - LAP_SHARE[id])).toBeLessThan(0.03);
    }
  });

  /** As its pictures show: the right side in a tight right-hander, the left side in a wide left-hander, nearly head-on on a straight. */
  test('its first three spots see what the invented pictures show', () => {
    const views = EBBSTONE.spots.slice(0, 3).map((spot) => viewOf(EBBSTONE, spot)!);
    expect(views).toMatchObject([
      { aspect: 'three-quarter', sideSeen: 'right' },
      { aspect: 'side-on', sideSeen: 'left' },
      { sideSeen: 'right', moments: expect.arrayContaining(['straight']) },
    ]);
    const headings = [118, 205];
    headings.forEach((heading, i) => {
      expect(Math.abs(turnOf(views[i]!.headingDeg - heading))).toBeLessThan(12);
    });
  });

  test('PL101: about 4 km, as long as its straights and arcs together', () => {
    expect(track.lengthM).toBeGreaterThan(3900);
    expect(track.lengthM).toBeLessThan(4200);
    expect(Math.abs(track.lengthM / EBBSTONE_LAID.lengthM - 1)).toBeLessThan(0.001);
  });

  test.each(EBBSTONE_LAID.apexes)('PL101: $name has the radius it was laid with, $radius m', ({ radius, alongM }) => {
    expect(Math.abs(radiusAt(track, alongM)! / radius - 1)).toBeLessThan(0.01);
  });

  test('both sides of the bike are seen, and every aspect but one', () => {
    const views = EBBSTONE.spots.map((spot) => viewOf(EBBSTONE, spot)!);
    expect(new Set(views.map(({ sideSeen }) => sideSeen))).toEqual(new Set(['left', 'right', 'both']));
    expect(new Set(views.map(({ aspect }) => aspect))).toEqual(new Set(['head-on', 'three-quarter', 'side-on']));
  });

  test('PL106: a permit opens the way to Sandbar, a van shortens others, and nobody crosses the hot track', () => {
    const stops = ['paddock', ...EBBSTONE.spots.map(({ id }) => id)] as const;
    const [bare, permit, van] = [
      { hasPermit: false, hasVehicle: false },
      { hasPermit: true, hasVehicle: false },
      { hasPermit: true, hasVehicle: true },
    ].map((means) => minutesBetween(EBBSTONE, stops, means)[0]!) as [
      (number | null)[],
      (number | null)[],
      (number | null)[],
    ];
    const closed = stops.filter((_, i) => bare[i] === null);
    expect(closed).toEqual(['sandbar']);
    expect(permit).not.toContain(null);
    permit.forEach((minutes, i) => {
      expect(van[i]!).toBeLessThanOrEqual(minutes! + 1e-9);
    });
    expect(van.filter((minutes, i) => minutes! < permit[i]! - 3).length).toBeGreaterThanOrEqual(4);
  });
});
