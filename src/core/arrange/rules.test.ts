/** The rules of `docs/rules/arrange.md` that a whole day shows only indirectly, each on the smallest case. */
import { describe, expect, it } from 'vitest';
import { foldedOf, ORDINARY_DAY, syntheticDay } from '../../../demo/simulated-day/index.js';
import type { RiderId, RiderKey } from '../ids.js';
import type { BikePoint, Decision } from '../log/types.js';
import type { Bikes } from './bikes.js';
import { arrange } from './index.js';
import { burstsOf, linkThreshold, type RawPass, type TimedFrame } from './passes.js';
import { cannotBeOne } from './riders/cannotBeOne.js';
import { chooseLook } from './riders/chooseLook.js';
import { codesFor } from './riders/codes.js';
import { fieldOf } from './riders/field.js';
import type { Look } from './riders/looks.js';
import type { BikeRef, Session } from './types.js';

const frame = (wall: number | null, body = 'one'): TimedFrame => ({ wall, session: 0, body, spot: null });
const bikesIn = (exposure: readonly number[], descriptors: readonly number[] = [], dimensions = 0): Bikes => ({
  count: exposure.length,
  exposure: Int32Array.from(exposure),
  subject: Int32Array.from(exposure, () => 0),
  dimensions,
  descriptors: Float32Array.from(descriptors),
  subjects: [],
});
const pass = (bikes: readonly number[], startS: number, changes: Partial<RawPass> = {}): RawPass => ({
  bikes,
  session: 0,
  body: 'one',
  spot: null,
  stand: 'one',
  start: 1000 * startS,
  end: 1000 * startS + 500,
  ...changes,
});

const day = syntheticDay({
  seed: 12,
  rounds: 3,
  lunchAfterRound: 2,
  groups: ORDINARY_DAY.groups.map((group) => ({ ...group, riders: 8 })),
  bodies: [ORDINARY_DAY.bodies[0]!, { ...ORDINARY_DAY.bodies[1]!, fastMs: 3_660_000 }],
});
const arrangement = arrange(day.input);

function pointAt({ frameId, subject }: BikeRef): BikePoint {
  const { mainFile } = arrangement.exposures.find((exposure) => exposure.frameId === frameId)!;
  const frame = day.input.pixels.get(frameId);
  if (frame?.kind !== 'measured') throw new Error('Expected a measured face in a simulated day.');
  const [left, top, width, height] = frame.subjects[subject]!.box;
  return { file: mainFile, x: left + width / 2, y: top + height / 2 };
}

describe('bursts and passes', () => {
  it('AR8: frames of one body no more than a second apart are one burst', () => {
    const frames = [frame(0), frame(1000), frame(1200, 'two'), frame(2000), frame(3001), frame(null)];
    expect([...burstsOf(frames)]).toEqual([0, 0, 1, 0, 2, -1]);
  });

  it('AR8: the least likeness lies between what bikes of one picture and lone neighbours of one burst show', () => {
    // Angles in degrees: 20 bursts of a bike and its near double, then 20 pictures of two bikes far apart.
    const angles: number[] = [];
    const exposure: number[] = [];
    for (let i = 0; i < 20; i++) {
      exposure.push(2 * i, 2 * i + 1);
      angles.push(0, 20 + (i % 5));
    }
    for (let i = 0; i < 20; i++) {
      exposure.push(100 + i, 100 + i);
      angles.push(0, 70 + (i % 5));
    }
    const descriptors = angles.flatMap((a) => [Math.cos((a * Math.PI) / 180), Math.sin((a * Math.PI) / 180)]);
    const bursts = Int32Array.from({ length: 120 }, (_, e) => (e < 40 ? e >> 1 : e));
    const least = linkThreshold(bikesIn(exposure, descriptors, 2), bursts);
    expect(least).toBeGreaterThan(Math.cos((70 * Math.PI) / 180));
    expect(least).toBeLessThan(Math.cos((24 * Math.PI) / 180));
  });

  it('AR8: no pass of a day has two bikes of one picture, and each bike is in one pass', () => {
    const all = arrangement.passes.flatMap(({ bikes }) => bikes.map(({ frameId, subject }) => `${frameId}:${subject}`));
    expect(new Set(all).size).toBe(all.length);
    for (const { bikes } of arrangement.passes)
      expect(new Set(bikes.map(({ frameId }) => frameId)).size).toBe(bikes.length);
  });
});

describe('what cannot be one bike', () => {
  const rule = { leastLapMs: 85_000 };
  const bikes = bikesIn([0, 0, 1, 2]);

  it('AR9: two passes that share a picture', () => {
    expect(cannotBeOne(pass([0], 0), pass([1], 0, { body: 'two' }), bikes, rule)).toBe(true);
    expect(cannotBeOne(pass([0], 0), pass([2], 0, { body: 'two' }), bikes, rule)).toBe(false);
  });

  it('AR9: two passes of one session sooner than a lap, and not those of another session or a lap later', () => {
    expect(cannotBeOne(pass([0], 0), pass([2], 80), bikes, rule)).toBe(true);
    expect(cannotBeOne(pass([0], 0), pass([2], 90), bikes, rule)).toBe(false);
    expect(cannotBeOne(pass([0], 0), pass([2], 80, { session: 1 }), bikes, rule)).toBe(false);
  });

  it('AR9: no rider found on a day comes round sooner than 0.85 of the fastest lap', () => {
    const least = 0.85 * day.timetable.fastestLapMs!;
    let compared = 0;
    for (const { passes } of arrangement.riders)
      for (const [i, p] of passes.entries())
        for (const q of passes.slice(0, i)) {
          const [a, b] = [arrangement.passes[q]!, arrangement.passes[p]!];
          if (a.session !== b.session || a.body !== b.body) continue;
          compared++;
          expect(b.start - a.end).toBeGreaterThanOrEqual(least);
        }
    expect(compared).toBeGreaterThan(20);
  });
});

describe('looks, codes, questions', () => {
  it('AR10: the day takes the look that leads back to the same bike, in whatever order looks are offered', () => {
    const riders = 6;
    const passes = Array.from({ length: 2 * riders }, (_, i) =>
      pass([i], 3600 * Math.floor(i / riders) + 10 * (i % riders), { session: Math.floor(i / riders) }),
    );
    const sessions = [0, 1].map((s) => ({ start: 3.6e6 * s, end: 3.6e6 * s + 6e5, group: 'N' }) as Session);
    const field = fieldOf(passes, bikesIn(passes.map((_, i) => i)), sessions, 100_000);
    const look = (name: string, whoIs: (i: number) => number): Look => {
      const rows = new Float32Array(passes.length * riders);
      passes.forEach((_, i) => {
        rows[i * riders + whoIs(i)] = 1;
      });
      return { name, dimensions: riders, rows };
    };
    const telling = look('telling', (i) => i % riders);
    const blind = look('blind', () => 0);
    expect(chooseLook([blind, telling], field).name).toBe('telling');
    expect(chooseLook([telling, blind], field).name).toBe('telling');
  });

  it('AR12: a code is the letter of the group and a syllable, and stays when others come behind', () => {
    for (const { code, group } of arrangement.riders)
      expect(code).toMatch(new RegExp(`^${group}-[a-z]{2}([a-z]{2})?$`));
    const anchors = arrangement.riders.map(({ key, group }) => ({ group, anchor: key as string }));
    const before = codesFor(anchors.slice(0, 12));
    expect(new Set(codesFor(anchors)).size).toBe(anchors.length);
    expect(codesFor(anchors).slice(0, 12)).toEqual(before);
  });

  it('AR12: minting a rider changes no code, whatever id it is given and whichever of its bikes the id is put on', () => {
    const codesOf = ({ riders }: typeof arrangement) => riders.map(({ code }) => code);
    const mint = (from: typeof arrangement): Decision[] =>
      from.riders.map((rider, i) => {
        const bikes = rider.passes.flatMap((p) => from.passes[p]!.bikes);
        const points = bikes.slice(-3).map(pointAt);
        return { kind: 'rider-minted', rider: `minted ${i}` as RiderId, points, shownAs: rider.key };
      });
    const minted = arrange({ ...day.input, log: foldedOf(mint(arrangement)) });
    expect(minted.riders.every(({ id }) => id !== null)).toBe(true);
    expect(codesOf(minted)).toEqual(codesOf(arrangement));
  });

  it('AR12: a minted rider keeps its code when an earlier picture of it comes', () => {
    const rider = arrangement.riders.find(({ passes }) => passes.length > 2)!;
    const lastOf = arrangement.passes[rider.passes.at(-1)!]!.bikes;
    const shownAs = `${lastOf[0]!.frameId}:${lastOf[0]!.subject}` as RiderKey;
    const known: Decision = { kind: 'rider-minted', rider: 'minted' as RiderId, points: lastOf.map(pointAt), shownAs };
    const { riders } = arrange({ ...day.input, log: foldedOf([known]) });
    const alone = codesFor([{ group: rider.group, anchor: shownAs }])[0];
    expect(riders.find(({ id }) => id === 'minted')).toMatchObject({ key: rider.key, code: alone });
  });

  it('AR13: the question about most frames comes first, here the clock of a whole body', () => {
    const contrary: Decision[] = [];
    for (const { face } of arrangement.riders.slice(0, 3)) {
      const points = [pointAt(face), pointAt(arrangement.riders.at(-1)!.face)];
      contrary.push({ kind: 'same-rider', points }, { kind: 'different-riders', points });
    }
    const { questions } = arrange({ ...day.input, log: foldedOf(contrary) });
    expect(questions.length).toBeGreaterThan(1);
    expect(questions[0]?.kind).toBe('body-clock');
    const worth = questions.map((question) => question.worth);
    expect(worth).toEqual([...worth].sort((a, b) => b - a));
  });
});
