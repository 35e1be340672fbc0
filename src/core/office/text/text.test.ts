import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { metresOf } from '../../units.js';
import { type ClockTime, KIT_KINDS, type KitItem, type MeetingPapers, type OwnPapers } from '../types.js';
import { KIT_EXAMPLE, kitText, readKit } from './kitText.js';
import { type Read, readMoney } from './lines.js';
import { MEETING_EXAMPLE, meetingText, readMeeting } from './meetingText.js';
import { OWN_EXAMPLE, ownText, readOwn } from './ownText.js';

const readOf = <T>(read: Read<T>): T => {
  if (read.kind === 'wrong') throw new Error(read.sentences.join(' '));
  return read.value;
};
const sentenceOf = (read: Read<unknown>): string => (read.kind === 'wrong' ? read.sentences.join('\n') : 'read');

const words = fc.stringMatching(/^[A-Z][a-z]{1,8}( [a-z]{1,6})?$/);
const day = fc
  .date({ min: new Date('1950-01-01'), max: new Date('2060-01-01'), noInvalidDate: true })
  .map((date) => date.toISOString().slice(0, 10));
const clock = fc
  .tuple(fc.nat(23), fc.nat(59))
  .map((parts) => parts.map((part) => String(part).padStart(2, '0')).join(':') as ClockTime);
const money = fc.record({
  amount: fc.integer({ min: 1, max: 20_000_000 }),
  currency: fc.constantFrom('GBP', 'EUR', 'AUD'),
});
/** Members that are absent are absent, not undefined. */
const some = <T extends object>(shape: { [K in keyof T]: fc.Arbitrary<NonNullable<T[K]>> }) =>
  fc.record(shape, { requiredKeys: [] }) as fc.Arbitrary<T>;

const grant = fc.constantFrom('granted', 'asked', 'refused');
const own = some<OwnPapers>({
  born: day,
  kitInsured: money,
  certificate: fc.record({ insurer: words, sum: money, coversTrackside: fc.boolean(), expires: day }),
  protector: fc.record({
    name: words,
    rating: fc.oneof(
      fc.record({ kind: fc.constant('snr' as const), snrDb: fc.integer({ min: 10, max: 39 }) }),
      fc.constant({ kind: 'hml' as const, highDb: 30, mediumDb: 24.5, lowDb: 16 }),
    ),
  }),
});
const meeting = fc
  .tuple(
    some<Omit<MeetingPapers, 'deadlines' | 'packed' | 'temperatureC' | 'humidityPercent'>>({
      asksLiability: money,
      asksAge: fc.integer({ min: 16, max: 21 }),
      accreditation: fc.record({ is: grant, by: words }, { requiredKeys: ['is'] }) as never,
      rightToSell: fc.record(
        { is: fc.oneof(grant, fc.constant('not-wanted')), by: words, commissionPercent: fc.nat(40) },
        { requiredKeys: ['is'] },
      ) as never,
      signOn: clock,
      briefing: fc.oneof(clock, fc.constant('none' as const)) as never,
      driveHomeMinutes: fc.nat(600),
      framesExpected: fc.integer({ min: 1, max: 15_000 }),
      noise: fc.record({
        levelDb: fc.integer({ min: 70, max: 110 }),
        atM: fc.integer({ min: 2, max: 50 }).map(metresOf),
      }),
    }),
    fc.array(fc.record({ what: words, by: day, isDone: fc.boolean() }), { maxLength: 3 }),
    fc.option(
      fc.record({ temperatureC: fc.integer({ min: -5, max: 45 }), humidityPercent: fc.integer({ min: 5, max: 100 }) }),
    ),
  )
  .map(([facts, deadlines, air]) => ({ ...facts, ...air, deadlines }));
const item = fc
  .tuple(
    fc.record({ kind: fc.constantFrom(...KIT_KINDS), name: words, count: fc.integer({ min: 1, max: 20 }) }),
    some<Omit<KitItem, 'kind' | 'name' | 'count'>>({
      serial: fc.stringMatching(/^[0-9A-Z]{3,10}$/),
      value: money,
      isInsured: fc.boolean(),
      weightG: fc.integer({ min: 1, max: 6000 }),
      focalMm: fc.constantFrom([85, 85] as const, [70, 200] as const) as never,
      capacityGb: fc.integer({ min: 8, max: 2000 }),
      framesACharge: fc.integer({ min: 100, max: 4000 }),
    }),
  )
  .map(([whole, facts]): KitItem => ({ ...whole, ...facts }));

describe('papers and kit as lines', () => {
  it('PL930: what is written down reads back as it was', () => {
    fc.assert(
      fc.property(own, meeting, fc.array(item, { maxLength: 5 }), (mine, theirs, kit) => {
        expect(readOf(readOwn(ownText(mine)))).toEqual(mine);
        expect(readOf(readMeeting(meetingText(theirs)))).toEqual(theirs);
        expect(readOf(readKit(kitText(kit)))).toEqual(kit);
      }),
    );
  });

  it('PL930: the examples can be read, and nothing is nothing', () => {
    expect(readOf(readOwn(OWN_EXAMPLE)).certificate).toMatchObject({
      insurer: 'Fennel Mutual',
      coversTrackside: true,
    });
    expect(readOf(readMeeting(MEETING_EXAMPLE))).toMatchObject({
      asksAge: 18,
      temperatureC: 24,
      rightToSell: { is: 'asked' },
    });
    expect(readOf(readKit(KIT_EXAMPLE))).toHaveLength(7);
    expect([readOf(readOwn('\n \n')), readOf(readKit('')), readOf(readMeeting(''))]).toEqual([
      {},
      [],
      { deadlines: [] },
    ]);
  });

  it('PL930: each line that cannot be read is named with what was expected, and then nothing is taken', () => {
    const wrong = sentenceOf(readMeeting('asks age 18\nsign-on 7.30\nright to sell maybe'));
    expect(wrong).toMatch(/Line 2: expected sign-on and a time like 07:30 but got “sign-on 7\.30”\./);
    expect(wrong).toMatch(/Line 3: expected right to sell granted, asked, refused or not wanted/);
    expect(sentenceOf(readOwn('insurance Fennel'))).toMatch(
      /begins with born, certificate, kit insured, protector or pocket page/,
    );
    expect(sentenceOf(readKit('body A; 12 furlongs'))).toMatch(/not “12 furlongs”/);
    expect(sentenceOf(readKit('hat Brim'))).toMatch(/body, lens, card/);
  });

  it.each([
    ['certificate Fennel; 5,000,000 GBP; until 2027-02-30', /expected certificate/],
    ['certificate Fennel; 5,000,000 GBP; trackside', /expected certificate/],
    ['certificate Fennel; 5,000,000 GBP; until 2027-03-31; and more', /expected certificate/],
    ['born 02.05.1984', /a day like/],
    ['protector Plugs; SNR many', /SNR 28/],
  ])('PL930: %s is not half taken', (line, words) => {
    expect(sentenceOf(readOwn(line))).toMatch(words);
  });

  it('PL930: trackside that is not named is not there', () => {
    expect(readOf(readOwn('certificate Fennel; 5,000,000 GBP; until 2027-03-31')).certificate?.coversTrackside).toBe(
      false,
    );
  });

  it('PL930: sums are read as people write them, and not guessed', () => {
    expect(['5,000,000 GBP', '5 000 000 GBP', '5000000GBP', '79.99 EUR'].map(readMoney)).toEqual([
      { amount: 5_000_000, currency: 'GBP' },
      { amount: 5_000_000, currency: 'GBP' },
      { amount: 5_000_000, currency: 'GBP' },
      { amount: 79.99, currency: 'EUR' },
    ]);
    expect(['£5m', '5,00 GBP', '5.000.000 GBP', '5 GBPS'].map(readMoney)).toEqual([null, null, null, null]);
  });
});
