/** What is known of riders beside their looks: laps, groups, numbers, hire fleets. On simulated days, none of them reported. */
import { describe, expect, it } from 'vitest';
import { foldedOf, hardDay, ORDINARY_DAY, type SyntheticDay, syntheticDay } from '../../../demo/simulated-day/index.js';
import type { FrameId } from '../ids.js';
import type { FrameMeasurement, NumberReading } from '../measure/types.js';
import type { Bikes } from './bikes.js';
import { arrange } from './index.js';
import type { RawPass } from './passes.js';
import type { Field } from './riders/field.js';
import { guessGroups } from './riders/guessGroups.js';
import { addNumbers, numberEvidence, readPasses } from './riders/numbers.js';
import type { Arrangement, Rider } from './types.js';

const smaller = { groups: ORDINARY_DAY.groups, rounds: 6 };
const hard = syntheticDay({ ...hardDay('s74', 6), ...smaller, instructors: 3 });
const arranged = arrange(hard.input);

/** Per pass the rider it truly is, null for a box where no bike went by. */
function trueRiders(day: SyntheticDay, arrangement: Arrangement): readonly (string | null)[] {
  const truth = new Map(day.truth.exposures.map(({ frameId, bikes }) => [frameId, bikes]));
  return arrangement.passes.map(({ bikes }) => {
    for (const { frameId, subject } of bikes) {
      const frame = day.input.pixels.get(frameId);
      const left = frame?.kind === 'measured' ? frame.subjects[subject]?.box[0] : undefined;
      const bike = truth.get(frameId)?.find(({ box }) => box[0] === left);
      if (bike !== undefined) return bike.rider;
    }
    return null;
  });
}

/** The true rider whose passes are most of a found rider's. */
function ownerOf(rider: Rider, truth: readonly (string | null)[]): string | null {
  const counts = new Map<string | null, number>();
  for (const p of rider.passes) counts.set(truth[p]!, (counts.get(truth[p]!) ?? 0) + 1);
  return [...counts].reduce((a, b) => (b[1] > a[1] ? b : a))[0];
}

describe('the fastest lap, where nobody said it', () => {
  // Laps are of 103 s and more on these days.
  it('AR24: is estimated well enough that no rider comes back sooner than 80 s', () => {
    expect(hard.input.timetable?.fastestLapMs).toBeUndefined();
    let compared = 0;
    for (const { passes } of arranged.riders)
      for (const [i, p] of passes.entries())
        for (const q of passes.slice(0, i)) {
          const [a, b] = [arranged.passes[q]!, arranged.passes[p]!];
          if (a.session !== b.session || a.body !== b.body) continue;
          compared++;
          expect(b.start - a.end).toBeGreaterThanOrEqual(80_000);
        }
    expect(compared).toBeGreaterThan(100);
  });
});

/** Of the true riders with passes in both halves of the day, those most of whose passes lie with one found rider in both. */
function joinedOverLunch(day: SyntheticDay, isOneOf: (rider: SyntheticDay['riders'][number]) => boolean) {
  const arrangement = arrange(day.input);
  const truth = trueRiders(day, arrangement);
  const lunch = Math.min(...day.sessions.filter(({ isAfternoon }) => isAfternoon).map(({ start }) => start));
  const mainIn = (key: string, isAfternoon: boolean): string | null => {
    const counts = new Map<string, number>();
    for (const { index, rider, start } of arrangement.passes)
      if (truth[index] === key && start >= lunch === isAfternoon) counts.set(rider, (counts.get(rider) ?? 0) + 1);
    return counts.size === 0 ? null : [...counts].reduce((a, b) => (b[1] > a[1] ? b : a))[0];
  };
  const pairs = day.riders.filter(isOneOf).map(({ key }) => [mainIn(key, false), mainIn(key, true)] as const);
  const both = pairs.filter(([a, b]) => a !== null && b !== null);
  return { riders: both.length, joined: both.filter(([a, b]) => a === b).length };
}

describe('riders who are not the same all day', () => {
  const day = syntheticDay({ ...hardDay('s74', 5), ...smaller, dressChangeShare: 0.25, groupChangeShare: 0.25 });

  it('AR11: helmet and leathers changed after lunch: still one rider, four times of five', () => {
    const { riders, joined } = joinedOverLunch(day, ({ changesDress }) => changesDress);
    expect(riders).toBeGreaterThan(8);
    expect(joined / riders).toBeGreaterThanOrEqual(0.8);
  });

  it('AR25: moved up or down a group at lunch: still one rider, nine times of ten', () => {
    const { riders, joined } = joinedOverLunch(
      day,
      ({ groups, changesDress }) => groups[0] !== groups[1] && !changesDress,
    );
    expect(riders).toBeGreaterThan(6);
    expect(joined / riders).toBeGreaterThanOrEqual(0.9);
  });

  it('AR31: without a timetable sessions keep no group, and yet riders are those that it would give', () => {
    const untimed = arrange({ ...day.input, timetable: null });
    expect(untimed.sessions.every(({ group }) => group === null)).toBe(true);
    expect(untimed.riders.length).toBeGreaterThan(30);
    expect(untimed.riders.map(({ passes }) => passes)).toEqual(arrange(day.input).riders.map(({ passes }) => passes));
  });
});

describe('who rides with whom, where nobody said', () => {
  const pass = (session: number): RawPass => ({ session }) as RawPass;
  const field = (sessions: readonly number[], sessionCount: number): Field =>
    ({ passes: sessions.map(pass), sessionCount }) as unknown as Field;
  /** Ten riders out in each of the two sessions, so many of them in both. */
  const sharing = (both: number) => {
    const sessions = [...Array<number>(10).fill(0), ...Array<number>(10).fill(1)];
    const riders = Array.from({ length: 10 }, (_, r) => (r < both ? [[r, 10 + r]] : [[r], [10 + r]])).flat();
    return { field: field(sessions, 2), riders };
  };

  it('AR31: sessions that most riders share are one group’s, those that few share are two groups’', () => {
    expect([...guessGroups(sharing(8).field, () => sharing(8).riders).groupOf]).toEqual([0, 0]);
    expect([...guessGroups(sharing(2).field, () => sharing(2).riders).groupOf]).toEqual([0, 1]);
  });

  it('AR31: is looked at again with more care where it is not plain; where it stays so, the care stays', () => {
    const tried: number[] = [];
    const guess = guessGroups(sharing(4).field, (careNats) => {
      tried.push(careNats);
      return sharing(4).riders;
    });
    expect(tried).toEqual([3, 6, 9, 14]);
    expect(guess).toMatchObject({ groups: [], careNats: 14 });
  });
});

describe('instructors', () => {
  const truth = trueRiders(hard, arranged);
  const instructors = arranged.riders.filter(({ isInstructor }) => isInstructor === true);

  it('AR25: are one rider each over all groups, and marked', () => {
    for (const key of ['instructor1', 'instructor2', 'instructor3']) {
      const own = arranged.passes.filter(({ index }) => truth[index] === key);
      const main = instructors.find((rider) => ownerOf(rider, truth) === key)!;
      expect(own.length).toBeGreaterThan(10);
      expect(main.groups.length).toBeGreaterThan(1);
      expect(own.filter(({ rider }) => rider === main.key).length / own.length).toBeGreaterThan(0.85);
    }
  });

  it('AR25: nobody else is marked', () => {
    expect(instructors.map((rider) => ownerOf(rider, truth)).filter((key) => !key?.startsWith('instructor'))).toEqual(
      [],
    );
  });

  it('AR25: a person’s word is followed, either way', () => {
    const pointOf = ({ face }: Rider) => {
      const frame = hard.input.pixels.get(face.frameId)!;
      const [left, top, width, height] = frame.kind === 'measured' ? frame.subjects[face.subject]!.box : [0, 0, 0, 0];
      const file = arranged.exposures.find(({ frameId }) => frameId === face.frameId)!.mainFile;
      return { file, x: left + width / 2, y: top + height / 2 };
    };
    const plain = arranged.riders.find(({ isInstructor }) => isInstructor !== true)!;
    const [marked] = instructors;
    const log = foldedOf([
      { kind: 'instructor', point: pointOf(marked!), is: false },
      { kind: 'instructor', point: pointOf(plain), is: false },
      { kind: 'instructor', point: pointOf(plain), is: true },
    ]);
    const after = new Map(arrange({ ...hard.input, log }).riders.map((rider) => [rider.key, rider]));
    expect(after.get(marked!.key)!.isInstructor).toBeUndefined();
    expect(after.get(plain.key)!.isInstructor).toBe(true);
    expect(after.size).toBe(arranged.riders.length);
  });
});

describe('hire fleets', () => {
  it('AR26: riders on bikes of one fleet are listed as looking alike, and few others are', () => {
    const day = syntheticDay({ ...hardDay('fleet', 7), ...smaller, dressChangeShare: 0 });
    const arrangement = arrange(day.input);
    const truth = trueRiders(day, arrangement);
    const fleetOf = new Map(day.riders.map(({ key, fleet }) => [key, fleet]));
    const pairs = arrangement.riders.flatMap((rider) =>
      (rider.alike ?? []).map((key) => {
        const other = arrangement.riders.find((one) => one.key === key)!;
        expect(other.alike).toContain(rider.key);
        const [a, b] = [rider, other].map((one) => fleetOf.get(ownerOf(one, truth) ?? '') ?? -1);
        return a === b && a !== -1;
      }),
    );
    expect(pairs.length).toBeGreaterThan(20);
    expect(pairs.filter(Boolean).length / pairs.length).toBeGreaterThan(0.85);
  });
});

describe('numbers as evidence', () => {
  const twoOfOneNumber = syntheticDay({ ...hardDay('s74', 8), ...smaller, rounds: 4, lunchAfterRound: 2 });
  const reading = (text: string, confidence = 0.9, isWhole = true): NumberReading => ({
    text,
    confidence,
    isWhole,
    box: [0, 0, 0.1, 0.1],
    turnedDeg: 0,
  });
  const evidenceOf = (entries: readonly string[] | null, ...passes: readonly (readonly NumberReading[])[]) => {
    const bikes = { subjects: passes.map((numbers) => ({ numbers })) } as unknown as Bikes;
    const raw = passes.map((_, i) => ({ bikes: [i] }) as unknown as RawPass);
    const { ofPass, logNumbers } = readPasses(raw, bikes, entries);
    const [a, b] = ofPass as [(typeof ofPass)[number], (typeof ofPass)[number]];
    const of = (numbers: typeof a) => numberEvidence(numbers, logNumbers);
    return of(addNumbers(a, b)) - of(a) - of(b);
  };

  it('AR27: one number read twice speaks for one bike, by as much as numbers there are', () => {
    const odds = evidenceOf(null, [reading('12', 0.97)], [reading('12', 0.97)]);
    expect(odds).toBeGreaterThan(4);
    expect(odds).toBeLessThan(Math.log(200));
    expect(evidenceOf(['12', '13', '14'], [reading('12')], [reading('12')])).toBeLessThan(Math.log(3));
  });

  it('AR27: two numbers speak against, less where one of them is not on the entry list', () => {
    const odds = evidenceOf(null, [reading('12')], [reading('34')]);
    expect(odds).toBeLessThan(-1.5);
    expect(evidenceOf(['12', '34', '56'], [reading('12')], [reading('34')])).toBeLessThan(
      evidenceOf(['12', '56', '78'], [reading('12')], [reading('34')]),
    );
  });

  it('AR27: nothing read, and nothing read whole, say nothing', () => {
    expect(evidenceOf(null, [], [reading('12')])).toBe(0);
    expect(evidenceOf(null, [reading('?2', 0.9)], [reading('12')])).toBe(0);
    expect(evidenceOf(null, [reading('2', 0.9, false)], [reading('12')])).toBe(0);
  });

  it('AR27: riders show the number that their pictures agree on, as a guess with its reason', () => {
    const truth = trueRiders(hard, arranged);
    const shown = arranged.riders.filter(({ number }) => number !== null);
    expect(shown.length).toBeGreaterThan(6);
    for (const { numberSource } of shown) expect(numberSource).toMatchObject({ kind: 'guessed' });
    const right = shown.filter((rider) => {
      const owner = ownerOf(rider, truth);
      return owner !== null && hard.numberOf(owner) === rider.number;
    });
    expect(right.length / shown.length).toBeGreaterThan(0.9);
  });

  it('AR27: one number on two bikes that look different makes nobody one, and is asked', () => {
    // Everything that is read on one numbered rider is read on a second one of the group, too.
    const truth = new Map(twoOfOneNumber.truth.exposures.map(({ frameId, bikes }) => [frameId, bikes]));
    const [one, other] = twoOfOneNumber.riders.filter(
      ({ groups, fleet }) => groups[0] === 'N' && groups[1] === 'N' && fleet < 0,
    );
    const pixels = new Map<FrameId, FrameMeasurement>(
      [...twoOfOneNumber.input.pixels].map(([frameId, frame]) => {
        if (frame.kind !== 'measured') return [frameId, frame] as const;
        const subjects = frame.subjects.map((subject) => {
          const rider = truth.get(frameId)?.find(({ box }) => box[0] === subject.box[0])?.rider;
          return { ...subject, numbers: rider === one!.key || rider === other!.key ? [reading('777', 0.95)] : [] };
        });
        return [frameId, { ...frame, subjects }] as const;
      }),
    );
    const numbered = { ...twoOfOneNumber, input: { ...twoOfOneNumber.input, pixels } };
    const arrangement = arrange(numbered.input);
    const owners = trueRiders(numbered, arrangement);
    const found = [one!, other!].map(({ key }) =>
      arrangement.riders.find((rider) => rider.number === '777' && ownerOf(rider, owners) === key),
    );
    expect(found[0]?.key).toBeDefined();
    expect(found[1]?.key).toBeDefined();
    const asked = arrangement.questions.find(
      (question) =>
        question.kind === 'same-rider' &&
        found.every((rider) => question.a === rider!.key || question.b === rider!.key),
    );
    expect(asked).toMatchObject({
      reasons: expect.arrayContaining(['both show 777: the same number, different bike?']),
    });
  });
});
