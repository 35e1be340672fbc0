import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { SpotId } from '../../ids.js';
import { dailyExposureDb } from '../../numeric/noise.js';
import { type Degrees, type Metres, millisecondsOf, wallMsOf } from '../../units.js';
import type { CircuitSpot } from '../circuit/types.js';
import { type CareWish, careOfDay } from './careOfDay.js';
import { RULES_FIRST } from './cautions.js';
import { noiseBySpot } from './noiseBySpot.js';
import { noiseOfDay } from './noiseOfDay.js';
import { careOfPlan, staysOfStands } from './plannedCare.js';
import { careStaysOf } from './staysOfPlan.js';
import type { CareStay, NoiseOfDay } from './types.js';

const HOUR = 3_600_000;
const NINE = Date.parse('2026-06-20T09:00:00Z');
const place = { longitudeDeg: 0 as Degrees, latitudeDeg: 52 as Degrees };
const spot = (number: number, more: Partial<CircuitSpot> = {}): CircuitSpot => ({
  id: `s${number}` as SpotId,
  number,
  name: `Spot ${number}`,
  place,
  viewAzimuthDeg: 0 as Degrees,
  ...more,
});
const stay = (hour: number, minutes: number, distanceM: number, more: Partial<CareStay> = {}): CareStay => ({
  spot: spot(1),
  from: wallMsOf(NINE + hour * HOUR),
  to: wallMsOf(NINE + hour * HOUR + minutes * 60_000),
  distanceM: distanceM as Metres,
  bikesOut: 30,
  ...more,
});
const day = (distanceM: number): readonly CareStay[] =>
  Array.from({ length: 21 }, (_, i) => stay(i / 3, 20, distanceM, { bikesOut: 30 }));
const foam = { name: 'foam plugs', rating: { kind: 'snr', snrDb: 28 } } as const;
const loud = (noise: NoiseOfDay) => {
  if (noise.kind === 'no-stays') throw new Error(noise.sentence);
  return noise;
};

/** Everything a day's care says, as one text. */
const allWords = (input: CareWish): string => JSON.stringify(careOfDay(input));

describe('noise through the plan', () => {
  it('PL911: without a reading it is a guess, with a range, and says what it rests on', () => {
    const noise = loud(noiseOfDay({ stays: day(20), lapMs: millisecondsOf(100_000) }));
    expect(noise.kind).toBe('guess');
    expect(noise.bareDailyDb.low).toBeLessThan(noise.bareDailyDb.likely);
    expect(noise.bareDailyDb.likely).toBeLessThan(noise.bareDailyDb.high);
    expect(noise.basis.join(' ')).toMatch(/87\.5 dB\(A\) at 20 m.*Nobody measured/);
  });

  it('PL911: a reading of a person replaces the limit, and narrows the range', () => {
    const guessed = loud(noiseOfDay({ stays: day(20) }));
    const read = loud(noiseOfDay({ stays: day(20), level: { levelDb: 91, atM: 20 as Metres } }));
    expect(read.kind).toBe('from-a-reading');
    expect(read.bareDailyDb.high - read.bareDailyDb.low).toBeCloseTo(6, 9);
    expect(read.bareDailyDb.likely - guessed.bareDailyDb.likely).toBeCloseTo(3.5, 9);
    expect(read.basis.join(' ')).toMatch(/91 dB\(A\) read at 20 m/);
  });

  it('PL911: the day is the sum of its stays by the formula of the regulations', () => {
    const stays = [stay(0, 20, 10), stay(1, 40, 25), stay(3, 15, 60, { bikesOut: 12 })];
    const noise = loud(noiseOfDay({ stays }));
    const summed = dailyExposureDb(noise.stays.map(({ bareDb, minutes }) => ({ levelDb: bareDb.likely, minutes })));
    expect(noise.bareDailyDb.likely).toBeCloseTo(summed, 9);
  });

  it('PL911: over a session, twice as far is 3 dB less, since each bike is heard twice as long', () => {
    const near = loud(noiseOfDay({ stays: [stay(0, 20, 10)] }));
    const far = loud(noiseOfDay({ stays: [stay(0, 20, 20)] }));
    expect(near.bareDailyDb.likely - far.bareDailyDb.likely).toBeCloseTo(3.01, 2);
  });

  it('PL911: further off, fewer bikes, shorter stays are never louder', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 3, max: 150 }),
        fc.integer({ min: 1, max: 50 }),
        fc.integer({ min: 1, max: 60 }),
        (metres, bikes, minutes) => {
          const level = (more: number, fewer: number, shorter: number) =>
            loud(noiseOfDay({ stays: [stay(0, minutes / shorter, metres * more, { bikesOut: bikes / fewer })] }))
              .bareDailyDb.likely;
          const here = level(1, 1, 1);
          expect(level(1.5, 1, 1)).toBeLessThan(here);
          expect(level(1, 2, 1)).toBeLessThan(here);
          expect(level(1, 1, 2)).toBeLessThan(here);
        },
      ),
    );
  });

  it('PL911: at the ear it is the protector’s figure less 4 dB, and the time left is to 85 dB at the ear', () => {
    const noise = loud(noiseOfDay({ stays: day(10), protector: foam }));
    const [first] = noise.stays;
    // C is guessed 3 dB above A: 28 − 3 − 4 are left of the 28.
    expect(first!.bareDb.likely - first!.atEarDb!.likely).toBeCloseTo(21, 9);
    const all = noise.stays.map(({ atEarDb, minutes }) => ({ levelDb: atEarDb!.likely, minutes }));
    const more = { levelDb: Math.max(...all.map(({ levelDb }) => levelDb)), minutes: noise.minutesLeft.likely };
    expect(dailyExposureDb([...all, more])).toBeCloseTo(85, 6);
  });

  it('PL911: the louder it may be, the less time is left', () => {
    const { minutesLeft } = loud(noiseOfDay({ stays: [stay(0, 20, 20)] }));
    expect(minutesLeft.low).toBeLessThan(minutesLeft.likely);
    expect(minutesLeft.likely).toBeLessThan(minutesLeft.high);
  });

  it('PL911: says when the day’s share is full without a protector, inside the stay in which it is', () => {
    const noise = loud(noiseOfDay({ stays: day(5), level: { levelDb: 96, atM: 20 as Metres } }));
    expect(noise.bareFullAt).not.toBeNull();
    expect(noise.minutesLeft.likely).toBe(0);
    expect(noise.bareFullAt!).toBeGreaterThan(NINE);
    expect(noise.bareFullAt!).toBeLessThan(NINE + 7 * HOUR);
    expect(loud(noiseOfDay({ stays: [stay(0, 5, 100)] })).bareFullAt).toBeNull();
  });

  it('PL911: spot by spot minutes and doses add up, and the loudest stay is told', () => {
    const stays = [stay(0, 20, 30), stay(1, 40, 10, { spot: spot(2) }), stay(2, 10, 15)];
    const noise = loud(noiseOfDay({ stays }));
    const [first, second] = noiseBySpot(noise.stays);
    expect([first!.spot.number, first!.minutes, second!.minutes]).toEqual([1, 30, 40]);
    expect(first!.bareDb).toEqual(noise.stays[2]!.bareDb);
    expect(first!.barePercent.likely).toBeCloseTo(
      noise.stays[0]!.barePercent.likely + noise.stays[2]!.barePercent.likely,
      9,
    );
  });

  it('PL911: no plan is said so, and an empty track is no noise', () => {
    expect(noiseOfDay({ stays: [] }).kind).toBe('no-stays');
    expect(noiseOfDay({ stays: [stay(0, 20, 10, { bikesOut: 0 })] }).kind).toBe('no-stays');
  });

  it('PL911: whoever has no protector is told to write one down, and never that it is quiet enough', () => {
    expect(loud(noiseOfDay({ stays: day(10) })).sentences.join(' ')).toMatch(/wear it whenever.*protector is not said/);
    expect(loud(noiseOfDay({ stays: day(10), protector: foam })).sentences.join(' ')).toMatch(/Behind foam plugs/);
  });

  it('PL911: too much protection is told of, too', () => {
    const muffs = { name: 'plugs and muffs', rating: { kind: 'snr', snrDb: 40 } } as const;
    expect(loud(noiseOfDay({ stays: day(40), protector: muffs })).sentences.join(' ')).toMatch(/easily missed/);
  });
});

describe('heat, water, sun', () => {
  it('PL912: what nobody said is said to be missing, and water is told for both', () => {
    const care = careOfDay({ stays: day(20) });
    expect(care.heat.kind).toBe('not-said');
    expect(care.drinking?.litres).toEqual([2, 7]);
  });

  it('PL912: a hot day wants a litre an hour, and never more than 1.4', () => {
    const care = careOfDay({ stays: day(20), air: { temperatureC: 33, humidityPercent: 45 } });
    expect(care.heat).toMatchObject({ kind: 'heat', isHot: true, wbgt: { kind: 'estimate' } });
    expect(care.drinking?.litres).toEqual([7, 7]);
    expect(care.drinking?.sentence).toMatch(/250 ml.*never more than 1\.4 l/);
    expect(JSON.stringify(care.heat)).toMatch(/an estimate that supposes/);
  });

  it('PL912: a cool day asks for less, and a hotter one is never told milder things', () => {
    const heatAt = (temperatureC: number) => careOfDay({ stays: day(20), air: { temperatureC, humidityPercent: 50 } });
    expect(heatAt(15).heat).toMatchObject({ isHot: false });
    expect(heatAt(15).drinking?.litres).toEqual([2, 2]);
    expect(JSON.stringify(heatAt(46).heat)).toMatch(/no picture is worth it/);
  });

  it('PL913: ultraviolet follows the sun through the stays, as at most, and names where to protect oneself', () => {
    const noon = NINE + 4 * HOUR;
    const sunAltitudeDeg = (at: number) => (60 - Math.abs(at - noon) / (HOUR / 10)) as Degrees;
    const uv = careOfDay({ stays: day(20), sunAltitudeDeg }).uv;
    expect(uv).toMatchObject({ kind: 'at-most', uvClass: 'very high' });
    if (uv.kind !== 'at-most') return;
    expect(uv.protectAt.length).toBeGreaterThan(0);
    expect(uv.protectAt.length).toBeLessThan(21);
    expect(careOfDay({ stays: day(20) }).uv.kind).toBe('unknown');
  });
});

describe('on foot, and the way home', () => {
  it('PL915: kilometres and load are told, and when they are more than a usual day', () => {
    const words = careOfDay({ stays: day(20), walkedM: 24_300 as Metres, carriedKg: 16.2 }).body.join(' ');
    expect(words).toMatch(/24\.3 km.*leave a spot out.*16\.2 kg.*leave something in the van/);
    expect(careOfDay({ stays: [] }).body.join(' ')).toMatch(/not known until.*not weighed/);
  });

  it.each([
    [45, /45 min(?!.*break)/],
    [120, /2 h(?!.*break)/],
    [150, /2 h 30 min.*one break/],
    [330, /5 h 30 min.*2 breaks/],
  ])('PL915: a drive of %d min has a break every two hours', (driveHomeMinutes, words) => {
    expect(careOfDay({ stays: day(20), driveHomeMinutes }).body.at(-1)).toMatch(words);
  });
});

describe('cautions', () => {
  const careful: CareWish = {
    stays: [
      stay(0, 20, 8, { spot: spot(1, { moments: ['apex'], needsPermit: true, hasShade: false }) }),
      stay(1, 20, 30, { spot: spot(2, { moments: ['straight'], caution: 'Wet grass on the bank.' }) }),
    ],
    usesServiceRoad: true,
  };

  it('PL914: the circuit’s, the marshals’ and local rules stand first', () => {
    expect(careOfDay(careful).cautions[0]).toEqual({ spot: null, sentence: RULES_FIRST });
  });

  it('PL914: what belongs to a spot stands at that spot and nowhere else', () => {
    const { cautions } = careOfDay(careful);
    const at = (number: number) =>
      cautions.filter((one) => one.spot?.number === number).map(({ sentence }) => sentence);
    expect(at(1).join(' ')).toMatch(/permit.*never on its outside.*8 m from the bikes.*No shade/);
    expect(at(2)).toEqual(['Wet grass on the bank.']);
  });

  it('PL914: service roads are spoken of where the plan uses one', () => {
    const words = (input: CareWish) => JSON.stringify(careOfDay(input).cautions);
    expect(words(careful)).toMatch(/hazard lights/);
    expect(words({ ...careful, usesServiceRoad: false })).not.toMatch(/hazard lights/);
  });

  it('PL916: not one word of it asks a rider for more', () => {
    const asks =
      /wheelie|stoppie|burn-?out|knee|elbow|lean (?:more|further)|show off|stunt|push harder|wave|slide|(?:ask|tell|urge|get|make|want|let) (?:a |the |your )?riders?/i;
    const hot = { ...careful, air: { temperatureC: 44, humidityPercent: 60 }, driveHomeMinutes: 300, protector: foam };
    for (const input of [careful, hot, { stays: day(5) }, { stays: [] }])
      expect(allWords(input).replace('One knee at most', '')).not.toMatch(asks);
    expect('Ask the rider for a wheelie').toMatch(asks);
  });
});

describe('from the plan', () => {
  const at = (hour: number) => wallMsOf(NINE + hour * HOUR);
  const stretch = (name: string, hour: number) =>
    ({ name, slot: name, group: name[0]!, from: at(hour), to: at(hour + 1 / 3), isSighting: false }) as const;

  it('PL917: stays of one photographer in order, without rests and what is no longer there', () => {
    const one = 's1' as SpotId;
    const stays = careStaysOf(
      {
        stays: [
          { photographer: 0, stretch: 'I1', spot: one },
          { photographer: 0, stretch: 'N1', spot: one },
          { photographer: 0, stretch: 'F1', spot: null },
          { photographer: 1, stretch: 'N1', spot: one },
          { photographer: 0, stretch: 'N9', spot: one },
          { photographer: 0, stretch: 'F1', spot: 'gone' as SpotId },
        ],
        stretches: [stretch('N1', 0), stretch('I1', 1), stretch('F1', 2)],
        spots: [spot(1)],
        distanceM: new Map([[one, 12 as Metres]]),
        bikesOut: new Map([['N', 22]]),
      },
      0,
    );
    expect(stays.map(({ from, distanceM, bikesOut }) => [from, distanceM, bikesOut])).toEqual([
      [at(0), 12, 22],
      [at(1), 12, undefined],
    ]);
  });

  const two = ['s1' as SpotId, 's2' as SpotId];
  const walk = (
    metres: (from: string, to: string) => number | null,
    stays: readonly { stretch: string; spot: SpotId }[],
  ) =>
    careOfPlan({
      stays: stays.map((one) => ({ photographer: 0, ...one })),
      stretches: [stretch('N1', 0), stretch('I1', 0.4), stretch('F1', 3)],
      spots: [spot(1), spot(2)],
      distanceM: new Map(two.map((id) => [id, 12 as Metres])),
      photographer: 0,
      ways: [{ id: 'road', kind: 'service-road' }],
      legBetween: (from, to) => {
        const found = metres(from, to);
        return found === null ? null : { metres: found, parts: [{ way: found > 900 ? 'road' : null }] };
      },
    });
  const day3 = [
    { stretch: 'N1', spot: two[0]! },
    { stretch: 'I1', spot: two[0]! },
    { stretch: 'F1', spot: two[1]! },
  ];

  it('PL917: walks from the van and back, to the van at lunch, and nowhere while it stays', () => {
    const legs: string[] = [];
    const { walkedM, usesServiceRoad } = walk((from, to) => {
      legs.push(`${from}-${to}`);
      return 500;
    }, day3);
    expect(legs).toEqual(['paddock-s1', 's1-paddock', 'paddock-s2', 's2-paddock']);
    expect([walkedM, usesServiceRoad]).toEqual([2000, false]);
    expect(walk(() => 1000, day3).usesServiceRoad).toBe(true);
  });

  it('PL917: where a way is not drawn, no distance is made up', () => {
    expect(walk((from) => (from === 's2' ? null : 500), day3).walkedM).toBeUndefined();
    expect(walk(() => 500, []).walkedM).toBeUndefined();
  });

  it('PL917: a day made by hand is the sessions that ran where one stood', () => {
    const slots = [stretch('N1', 0), stretch('I1', 1)].map(({ name, group, from, to }) => ({
      name,
      group,
      start: from,
      end: to,
    }));
    const made = staysOfStands([{ spot: two[0]!, from: at(0.1), to: at(1.1) }], slots);
    expect(made.stretches.map(({ slot, from, to }) => [slot, from, to])).toEqual([
      ['N1', at(0.1), at(1 / 3)],
      ['I1', at(1), at(1.1)],
    ]);
    expect(made.stays.map(({ stretch: name }) => name)).toEqual(made.stretches.map(({ name }) => name));
  });
});
