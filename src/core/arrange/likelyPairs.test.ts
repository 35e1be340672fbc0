/** Pieces of riders, and what a person's word about one makes of the others it may belong to. */
import { describe, expect, it } from 'vitest';
import { foldedOf, hardDay, ORDINARY_DAY, syntheticDay } from '../../../demo/simulated-day/index.js';
import type { RiderKey } from '../ids.js';
import type { BikePoint, Decision } from '../log/types.js';
import { arrangeAgain } from './index.js';
import { likelyPairs } from './riders/likelyPairs.js';
import type { Arrangement, BikeRef } from './types.js';

const day = syntheticDay({ ...hardDay('s50', 3), groups: ORDINARY_DAY.groups, rounds: 5, noise: 4.5 });
const start = arrangeAgain(day.input, null);

function pointAt({ frameId, subject }: BikeRef): BikePoint {
  const frame = day.input.pixels.get(frameId);
  if (frame?.kind !== 'measured') throw new Error('Expected a measured frame in a simulated day.');
  const [left, top, width, height] = frame.subjects[subject]!.box;
  const { mainFile } = start.arrangement.exposures.find((exposure) => exposure.frameId === frameId)!;
  return { file: mainFile, x: left + width / 2, y: top + height / 2 };
}

const hearing = (decision: Decision): Arrangement =>
  arrangeAgain({ ...day.input, log: foldedOf([decision]) }, start.memory).arrangement;
const faceOf = (key: RiderKey): BikePoint => pointAt(start.arrangement.riders.find((rider) => rider.key === key)!.face);

const keyOf = ({ frameId, subject }: BikeRef): string => `${frameId}:${subject}`;

/** By the other's key, how likely it and this one are said to be one. */
const chancesOf = (key: RiderKey, { questions }: Arrangement): ReadonlyMap<RiderKey, number> =>
  new Map(
    questions.flatMap((question) => {
      if (question.kind !== 'same-rider' || (question.a !== key && question.b !== key)) return [];
      return [[question.a === key ? question.b : question.a, question.confidence] as const];
    }),
  );

describe('pieces of riders', () => {
  const { clustering, field } = start.memory.found;
  const pairs = likelyPairs(clustering, field);
  const riderAt = clustering.clusters.map(({ passes }) => start.arrangement.passes[passes[0]!]!.rider);
  /** Those that may belong to several larger ones. */
  const pieces = [...new Set(pairs.map(({ small }) => small))].flatMap((piece) => {
    const key = riderAt[piece]!;
    const larger = new Set(pairs.filter(({ small }) => small === piece).map(({ large }) => riderAt[large]!));
    const chances = new Map([...chancesOf(key, start.arrangement)].filter(([other]) => larger.has(other)));
    return chances.size >= 3 ? [{ key, chances }] : [];
  });

  it('AR13: share one chance among all that they may belong to', () => {
    const { clustering, field } = start.memory.found;
    const sums = new Map<number, number>();
    for (const { small, chance } of likelyPairs(clustering, field)) sums.set(small, (sums.get(small) ?? 0) + chance);
    expect(sums.size).toBeGreaterThan(10);
    expect(Math.max(...sums.values())).toBeLessThanOrEqual(1);
  });

  it('AR13: are likelier somebody else’s when it was said whose they are not', () => {
    expect(pieces.length).toBeGreaterThan(0);
    for (const { key, chances } of pieces) {
      const [likeliest] = [...chances].sort((a, b) => b[1] - a[1])[0]!;
      const after = chancesOf(key, hearing({ kind: 'different-riders', points: [faceOf(key), faceOf(likeliest)] }));
      expect(after.has(likeliest)).toBe(false);
      for (const [other, chance] of chances) if (other !== likeliest) expect(after.get(other)).toBeGreaterThan(chance);
    }
  });

  it('AR13: are asked about no more when they are somebody’s', () => {
    let joined = 0;
    for (const { key, chances } of pieces) {
      const [likeliest] = [...chances].sort((a, b) => b[1] - a[1])[0]!;
      const arrangement = hearing({ kind: 'same-rider', points: [faceOf(key), faceOf(likeliest)] });
      // Keys are of first bikes: who has the likeliest's first has both, unless one pass of the two forbids it.
      const rider = (one: RiderKey) =>
        arrangement.passes.find(({ bikes }) => bikes.some((bike) => keyOf(bike) === one))!.rider;
      if (rider(key) !== rider(likeliest)) continue;
      joined++;
      const after = chancesOf(rider(key), arrangement);
      for (const other of chances.keys()) {
        const ofLikeliest = pairs.filter(({ small, large }) => {
          const both = [riderAt[small], riderAt[large]];
          return both.includes(likeliest) && both.includes(other);
        });
        const most = Math.max(0, ...ofLikeliest.map(({ chance }) => chance));
        expect(after.get(other) ?? 0).toBeLessThanOrEqual(most + 1e-9);
      }
    }
    expect(joined).toBeGreaterThan(0);
  });
});
