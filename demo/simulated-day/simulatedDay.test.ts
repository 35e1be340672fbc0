import { describe, expect, it } from 'vitest';
import { hardDay, measureStrength, syntheticDay } from './index.js';

const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;
const SEEDS_TO_TUNE = [1, 2, 3, 4, 5, 6, 7, 8, 9];

describe('a hard simulated day', () => {
  const day = syntheticDay(hardDay('s74', 1));
  const subjects = [...day.input.pixels.values()].flatMap((frame) =>
    frame.kind === 'measured' ? frame.subjects.map((subject) => ({ frameId: frame.frameId, subject })) : [],
  );
  const trueBikes = new Map(day.truth.exposures.map(({ frameId, bikes }) => [frameId, bikes]));
  const numbered = subjects.flatMap(({ frameId, subject }) => {
    const bike = trueBikes.get(frameId)?.find(({ box }) => box[0] === subject.box[0]);
    const number = bike === undefined ? null : day.numberOf(bike.rider);
    return number === null ? [] : [{ number, readings: subject.numbers ?? [] }];
  });

  // The two strengths: what a real two-camera set of 148 motorcycles gave (73.6 %), and a weaker one.
  it('has descriptors of the strength it says, measured', () => {
    expect(mean(SEEDS_TO_TUNE.map((seed) => measureStrength(hardDay('s74', seed))))).toBeCloseTo(0.74, 1.7);
    expect(mean(SEEDS_TO_TUNE.map((seed) => measureStrength(hardDay('s50', seed))))).toBeCloseTo(0.5, 1.7);
  });

  // 29 of 40 photographs of single bikes read.
  it('has numbers read as often, and as wrongly, as it says', () => {
    const whole = numbered.flatMap(({ number, readings }) =>
      readings.filter(({ isWhole }) => isWhole).map(({ text }) => text === number),
    );
    expect(numbered.length).toBeGreaterThan(1000);
    expect(whole.length / numbered.length).toBeGreaterThan(0.68);
    expect(whole.length / numbered.length).toBeLessThan(0.77);
    expect(whole.filter((isRight) => !isRight).length / whole.length).toBeLessThanOrEqual(0.02);
    expect(whole.some((isRight) => !isRight)).toBe(true);
  });

  it('has boxes missing and too many', () => {
    const bikes = [...trueBikes.values()].flat().length;
    const matched = subjects.filter(({ frameId, subject }) =>
      trueBikes.get(frameId)?.some(({ box }) => box[0] === subject.box[0]),
    ).length;
    expect(matched / bikes).toBeGreaterThan(0.95);
    expect(matched / bikes).toBeLessThan(0.985);
    expect(subjects.length - matched).toBeGreaterThan(50);
  });

  it('has a third of its bikes black, instructors out with every group, and no fastest lap said', () => {
    const firsts = subjects.map(({ subject }) =>
      subject.bikeColours.some(({ name, share }) => name === 'black' && share > 0.4),
    );
    expect(firsts.filter(Boolean).length / firsts.length).toBeGreaterThan(0.2);
    expect(firsts.filter(Boolean).length / firsts.length).toBeLessThan(0.5);
    const groups = new Set(
      day.truth.exposures
        .filter(({ bikes }) => bikes.some(({ rider }) => rider === 'instructor1'))
        .map(({ session }) => day.truth.groupOf.get(session!)),
    );
    expect([...groups].sort()).toEqual(['F', 'I', 'N']);
    expect(day.input.timetable?.fastestLapMs).toBeUndefined();
  });

  it('is the same day for the same seed', () => {
    const again = syntheticDay(hardDay('s74', 1));
    expect(again.input.pixels).toEqual(day.input.pixels);
    expect(again.truth).toEqual(day.truth);
  });
});
