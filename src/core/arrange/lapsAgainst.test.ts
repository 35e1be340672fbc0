/** A person's `same` that the laps plainly forbid. */
import { describe, expect, it } from 'vitest';
import { foldedOf, ORDINARY_DAY, syntheticDay } from '../../../demo/simulated-day/index.js';
import type { RiderId } from '../ids.js';
import type { BikePoint, Decision } from '../log/types.js';
import { arrange } from './index.js';
import type { BikeRef, Rider } from './types.js';

const day = syntheticDay({ seed: 6, groups: ORDINARY_DAY.groups.map((group) => ({ ...group, riders: 8 })) });
const found = arrange(day.input);

function pointAt({ frameId, subject }: BikeRef): BikePoint {
  const { mainFile } = found.exposures.find((exposure) => exposure.frameId === frameId)!;
  const frame = day.input.pixels.get(frameId);
  if (frame?.kind !== 'measured') throw new Error('Expected a measured face in a simulated day.');
  const [left, top, width, height] = frame.subjects[subject]!.box;
  return { file: mainFile, x: left + width / 2, y: top + height / 2 };
}

/** Passes of the first that lie in one session sooner than two thirds of a lap from one of the other. */
const tooClose = (one: Rider, other: Rider): number =>
  one.passes.filter((p) =>
    other.passes.some((q) => {
      const [a, b] = [found.passes[p]!, found.passes[q]!];
      const apart = Math.max(a.start, b.start) - Math.min(a.end, b.end);
      return a.session === b.session && a.body === b.body && apart < (2 / 3) * day.timetable.fastestLapMs!;
    }),
  ).length;

const pairs = found.riders.flatMap((b, i) => found.riders.slice(0, i).map((a) => [a, b] as const));
const [first, second] = pairs.find(([a, b]) => Math.min(tooClose(a, b), tooClose(b, a)) > a.passes.length / 2)!;
const points = [first.face, second.face].map(pointAt);
const same: Decision = { kind: 'same-rider', points };
const different: Decision = { kind: 'different-riders', points };

const said = (...decisions: Decision[]) => {
  const { passes, questions } = arrange({ ...day.input, log: foldedOf(decisions) });
  const riderOf = ({ frameId, subject }: BikeRef) =>
    passes.find(({ bikes }) => bikes.some((bike) => bike.frameId === frameId && bike.subject === subject))?.rider;
  return {
    isOne: riderOf(first.face) === riderOf(second.face),
    asked: questions.flatMap((one) =>
      one.kind === 'contradiction' && one.id.includes(' laps ') ? [one.sentence] : [],
    ),
  };
};

describe('a word against the laps', () => {
  it('AR34: is asked, and joins nobody', () => {
    const { isOne, asked } = said(same);
    expect(isOne).toBe(false);
    expect(asked).toEqual([
      `${first.code} and ${second.code} were called one rider, but again and again they were out closer together than a lap; they are kept apart. If they are one all the same, say so once more.`,
    ]);
  });

  it('AR34: said once more it is followed, and no longer asked', () => {
    const { isOne, asked } = said(same, same);
    expect(isOne).toBe(true);
    expect(asked).toEqual([]);
  });

  it('AR34: taken back it is no longer asked, and is new when it comes again', () => {
    expect(said(same, different)).toEqual({ isOne: false, asked: [] });
    expect(said(same, different, same).asked).toHaveLength(1);
  });

  it('AR34: one line-up says it once however many of its pictures it joins', () => {
    const others = second.passes.slice(0, 3).map((p) => pointAt(found.passes[p]!.bikes[0]!));
    const lineUp: Decision = { kind: 'line-up', of: points[0]!, shown: others, chosen: [0, 1, 2], unsure: [] };
    const { isOne, asked } = said(lineUp);
    expect(isOne).toBe(false);
    expect(asked).toHaveLength(1);
  });

  it('AR34: whoever gives two bikes one name has looked at both', () => {
    const names = points.map((point): Decision => ({ kind: 'rider-is', point, rider: 'rider-7' as RiderId }));
    expect(said(...names)).toEqual({ isOne: true, asked: [] });
  });
});
