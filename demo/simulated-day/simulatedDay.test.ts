import { describe, expect, it } from 'vitest';
import { hardDay, measureStrength, ORDINARY_DAY, type SyntheticDay, syntheticDay } from './index.js';

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

describe('days that are not like others', () => {
  const GROUPS = ORDINARY_DAY.groups.map((group) => ({ ...group, riders: 8 }));
  const seenOf = ({ input, truth }: SyntheticDay, rider: string) =>
    truth.exposures.flatMap(({ frameId, session, bikes }) => {
      const box = bikes.find((bike) => bike.rider === rider)?.box;
      const frame = input.pixels.get(frameId);
      const subjects = frame?.kind === 'measured' ? frame.subjects : [];
      const subject = subjects.find((one) => one.box[0] === box?.[0]);
      return subject === undefined || session === null ? [] : [{ session, subject }];
    });
  const roundOf = (session: string): number => Number(session.slice(1));
  const dressOf = (seen: ReturnType<typeof seenOf>): readonly (string | undefined)[] =>
    [...new Set(seen.map(({ subject }) => subject.riderColours[0]?.name))].filter((name) => name !== undefined);

  it('has helmet and leathers changed after lunch', () => {
    const day = syntheticDay({ groups: GROUPS, dressChangeShare: 1, seed: 5 });
    const changed = day.riders.filter(({ key }) => {
      const seen = seenOf(day, key);
      const halves = [
        seen.filter(({ session }) => roundOf(session) <= 3),
        seen.filter(({ session }) => roundOf(session) > 3),
      ];
      return halves.every((half) => half.length > 0) && dressOf(halves[0]!)[0] !== dressOf(halves[1]!)[0];
    });
    expect(day.riders.every(({ changesDress }) => changesDress)).toBe(true);
    expect(changed.length).toBeGreaterThan(12);
  });

  it('has riders who change group at lunch', () => {
    const day = syntheticDay({ groups: GROUPS, groupChangeShare: 0.5, seed: 6 });
    const movers = day.riders.filter(({ groups: [morning, afternoon] }) => morning !== afternoon);
    expect(movers.length).toBeGreaterThan(5);
    for (const { key, groups } of movers)
      for (const { session } of seenOf(day, key)) expect(session[0]).toBe(groups[roundOf(session) <= 3 ? 0 : 1]);
  });

  it('has two riders on one bike, never out together, each in clothes of their own', () => {
    const day = syntheticDay({ groups: GROUPS, sharedBikes: 2, groupChangeShare: 0, fleetShare: 0, seed: 7 });
    const sharing = day.riders.filter(({ sharesBikeOf }) => sharesBikeOf >= 0);
    expect(sharing).toHaveLength(2);
    for (const rider of sharing) {
      const other = day.riders[rider.sharesBikeOf]!;
      const [own, theirs] = [seenOf(day, rider.key), seenOf(day, other.key)];
      const sessions = new Set(theirs.map(({ session }) => session));
      expect(own.length > 5 && theirs.length > 5).toBe(true);
      expect(own.some(({ session }) => sessions.has(session))).toBe(false);
      const bikeOf = (seen: typeof own) =>
        new Set(seen.flatMap(({ subject }) => subject.bikeColours.slice(0, 1).map(({ name }) => name)));
      expect([...bikeOf(own)].some((name) => bikeOf(theirs).has(name))).toBe(true);
    }
  });

  it('has suits over leathers once it rains', () => {
    const day = syntheticDay({ groups: GROUPS, rainFromRound: 4, seed: 8 });
    const wetDress = (isWet: boolean) =>
      new Set(
        day.riders.flatMap(({ key }) =>
          seenOf(day, key)
            .filter(({ session }) => roundOf(session) >= 4 === isWet)
            .map(({ subject }) => subject.riderColours[0]!.name),
        ),
      );
    const suits = day.riders.filter(({ key }) => {
      const wet = seenOf(day, key).filter(({ session }) => roundOf(session) >= 4);
      return (
        wet.length > 0 &&
        wet.every(({ subject }) => ['black', 'yellow', 'grey'].includes(subject.riderColours[0]!.name))
      );
    });
    expect(suits.length / day.riders.length).toBeGreaterThan(0.6);
    expect(wetDress(false).size).toBeGreaterThan(3);
  });

  it('has a meeting of two days: the same riders again, sessions counted on, a night between', () => {
    const day = syntheticDay({ groups: GROUPS, rounds: 4, days: 2, seed: 9 });
    expect(day.sessions.map(({ round }) => round)).toEqual(Array.from({ length: 24 }, (_, i) => 1 + Math.floor(i / 3)));
    expect(day.sessions[12]!.start - day.sessions[11]!.end).toBeGreaterThan(12 * 3_600_000);
    expect(day.sessions.map(({ isAfternoon }) => isAfternoon).filter(Boolean)).toHaveLength(6);
    const onBoth = day.riders.filter(({ key }) => {
      const rounds = seenOf(day, key).map(({ session }) => roundOf(session));
      return rounds.some((round) => round <= 4) && rounds.some((round) => round > 4);
    });
    expect(onBoth.length).toBe(day.riders.length);
  });

  it('is an ordinary day where nothing is asked for', () => {
    const plain = syntheticDay({ groups: GROUPS, seed: 10 });
    const asked = syntheticDay({ groups: GROUPS, seed: 10, days: 1, rainFromRound: 99 });
    expect(asked.truth).toEqual(plain.truth);
    expect(asked.input.pixels).toEqual(plain.input.pixels);
  });
});
