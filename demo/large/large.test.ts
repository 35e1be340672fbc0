import { describe, expect, it } from 'vitest';
import { SEEDS } from '../../tools/accuracy/seeds.js';
import { render } from '../render/frame.js';
import { largeMeeting } from './day.js';
import { largeShot } from './shots.js';

describe('an enlarged meeting', () => {
  const meeting = largeMeeting(SEEDS.rendered[0]);

  it.each(SEEDS.rendered)('has sixty riders seen, nine hundred frames and five spots at least: seed %i', (seed) => {
    const { shots } = largeMeeting(seed);
    const bikes = shots.flatMap(({ shot }) => shot.bikes);
    expect(new Set(bikes.map(({ rider }) => rider)).size).toBeGreaterThanOrEqual(60);
    expect(shots.length).toBeGreaterThanOrEqual(900);
    expect(new Set(shots.map(({ shot }) => shot.spot)).size).toBeGreaterThanOrEqual(5);
  });

  it('is another for another seed and the same for the same', () => {
    expect(largeMeeting(SEEDS.rendered[0]).riders).toEqual(meeting.riders);
    expect(largeMeeting(SEEDS.rendered[1]).riders).not.toEqual(meeting.riders);
  });

  it('has hire fleets on bikes that are alike, in clothes that are not', () => {
    const fleet = meeting.photographed.riders.flatMap((rider, i) => (rider.fleet === 0 ? [meeting.riders[i]!] : []));
    expect(fleet.length).toBeGreaterThan(1);
    const [bikesSeen, dress] = [fleet, fleet].map((all, k) =>
      all.map(({ liveries: [{ base, accent, pattern, suit, helmet, suitAccent }] }) =>
        k === 0 ? `${base} ${accent} ${pattern}` : `${suit} ${suitAccent} ${helmet}`,
      ),
    );
    expect(new Set(bikesSeen).size).toBe(1);
    expect(new Set(dress).size).toBeGreaterThan(1);
  });

  it('shows the bike aimed at, and whoever is beside it', () => {
    const at = meeting.shots.findIndex(({ shot }) => shot.bikes.length === 2);
    const { boxes } = render({ ...largeShot(meeting, meeting.shots[at]!.shot, at), width: 300, height: 200 });
    const [left, top, width, height] = boxes[0]!;
    expect(boxes).toHaveLength(2);
    expect(left + width / 2).toBeGreaterThan(0.15);
    expect(left + width / 2).toBeLessThan(0.85);
    expect(width * height).toBeGreaterThan(0.03);
    expect(top + height).toBeLessThanOrEqual(1);
  });
});
