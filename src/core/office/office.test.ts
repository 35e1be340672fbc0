import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { SpotId } from '../ids.js';
import { careOfDay } from '../plan/care/careOfDay.js';
import type { CareStay } from '../plan/care/types.js';
import type { CircuitSpot } from '../plan/circuit/types.js';
import { type Degrees, type Metres, wallMsOf } from '../units.js';
import { type BeforeInput, beforePage, carriedOf } from './beforePage.js';
import { checkKit } from './checkKit.js';
import { checkPapers } from './checkPapers.js';
import { ageOn, dayInWords, daysBetween, isDay } from './days.js';
import { framesExpected, packingList } from './packingList.js';
import type { Check, KitItem, MeetingPapers, OwnPapers } from './types.js';

const own: OwnPapers = {
  born: '1984-05-02',
  certificate: {
    insurer: 'Fennel Mutual',
    sum: { amount: 5_000_000, currency: 'GBP' },
    coversTrackside: true,
    expires: '2027-03-31',
  },
  kitInsured: { amount: 9000, currency: 'GBP' },
  protector: { name: 'foam plugs', rating: { kind: 'snr', snrDb: 28 } },
};
const papers: MeetingPapers = {
  asksLiability: { amount: 5_000_000, currency: 'GBP' },
  asksAge: 18,
  accreditation: { is: 'granted', by: 'the circuit' },
  rightToSell: { is: 'granted', by: 'the organiser', commissionPercent: 15 },
  signOn: '07:30',
  briefing: '08:20',
  deadlines: [],
  packed: [],
};
const in2026 = { firstDay: '2026-06-20', lastDay: '2026-06-21', today: '2026-06-14' };
const checked = (
  more: { own?: Partial<OwnPapers>; papers?: Partial<MeetingPapers>; today?: string } = {},
): readonly Check[] =>
  checkPapers({ ...in2026, ...more, own: { ...own, ...more.own }, papers: { ...papers, ...more.papers } });
const of = (checks: readonly Check[], id: string): Check => {
  const found = checks.find((one) => one.id === id);
  if (!found) throw new Error(`Expected a line ${id} but there are ${checks.map((one) => one.id).join(', ')}.`);
  return found;
};
const certificate = (more: Partial<NonNullable<OwnPapers['certificate']>>) => ({
  own: { certificate: { ...own.certificate!, ...more } },
});

describe('papers', () => {
  it('PL920: with everything in order nothing is red, and every line says why', () => {
    const checks = checked();
    expect(checks.map(({ is }) => is)).toEqual(checks.map(() => 'settled'));
    expect(checks.length).toBeGreaterThanOrEqual(8);
    expect(new Set(checks.map(({ id }) => id)).size).toBe(checks.length);
  });

  it('PL920: with nothing written down, what is missing is red and says what to do', () => {
    const checks = checkPapers({ ...in2026, own: {}, papers: { deadlines: [], packed: [] } });
    for (const id of ['certificate', 'accreditation', 'right-to-sell', 'sign-on', 'briefing'])
      expect(of(checks, id).is).toBe('missing');
    expect(of(checks, 'right-to-sell').sentence).toMatch(/Accreditation does not include it/);
  });

  it.each([
    ['2026-06-13', 'missing', /expired on 13 June 2026/],
    ['2026-06-14', 'missing', /expires on 14 June 2026, before the meeting ends/],
    ['2026-06-20', 'missing', /before the meeting ends on 21 June 2026/],
    ['2026-06-21', 'mind', /expires in 7 days/],
    ['2026-07-14', 'mind', /expires in 30 days, on 14 July 2026/],
    ['2026-07-15', 'settled', /holds until 15 July 2026/],
  ] as const)('PL921: a certificate until %s is %s', (expires, is, words) => {
    expect(of(checked(certificate({ expires })), 'certificate')).toMatchObject({
      is,
      sentence: expect.stringMatching(words),
    });
  });

  it('PL922: the sum is held against what the circuit asks, never against a figure of ours', () => {
    const sum = (amount: number, currency: string, asks = papers.asksLiability) =>
      of(
        checked({ ...certificate({ sum: { amount, currency } }), papers: asks ? { asksLiability: asks } : {} }),
        'sum',
      );
    expect(sum(5_000_000, 'GBP').is).toBe('settled');
    expect(sum(2_000_000, 'GBP')).toMatchObject({
      is: 'missing',
      sentence: expect.stringMatching(/2,000,000 GBP but .* 5,000,000 GBP/),
    });
    expect(sum(6_000_000, 'EUR').is).toBe('mind');
    const { asksLiability: _, ...unasked } = papers;
    const unsaid = checkPapers({ ...in2026, own, papers: unasked });
    expect(of(unsaid, 'sum')).toMatchObject({ is: 'mind', sentence: expect.stringMatching(/is not said/) });
  });

  it('PL923: wording that does not name the trackside is missing, whatever the sum', () => {
    expect(of(checked(certificate({ coversTrackside: false })), 'trackside').is).toBe('missing');
  });

  it('PL924: age counts on the first day', () => {
    const age = (born: string) => of(checked({ own: { born } }), 'age');
    expect(age('2008-06-20')).toMatchObject({ is: 'settled', sentence: expect.stringMatching(/You are 18/) });
    expect(age('2008-06-21')).toMatchObject({ is: 'missing', sentence: expect.stringMatching(/You are 17/) });
  });

  it('PL925: accreditation never stands for the right to sell', () => {
    const granted = checked({ papers: { rightToSell: { is: 'refused', by: 'the circuit' } } });
    expect(of(granted, 'accreditation').is).toBe('settled');
    expect(of(granted, 'right-to-sell')).toMatchObject({
      is: 'missing',
      sentence: expect.stringMatching(/nothing .* may be sold/),
    });
    expect(of(checked({ papers: { rightToSell: { is: 'not-wanted' } } }), 'right-to-sell').is).toBe('settled');
    for (const is of ['asked', 'refused'] as const)
      expect(checked({ papers: { accreditation: { is } } }).find(({ id }) => id === 'accreditation')!.is).toBe(
        'missing',
      );
  });

  it.each([
    ['2026-06-13', false, 'missing', /was due/],
    ['2026-06-14', false, 'mind', /due today/],
    ['2026-06-15', false, 'mind', /due tomorrow/],
    ['2026-06-21', false, 'mind', /in 7 days/],
    ['2026-06-22', false, 'open', /in 8 days/],
    ['2026-06-13', true, 'settled', /done/],
  ] as const)('PL926: a deadline of %s (done: %s) is %s', (by, isDone, is, words) => {
    const checks = checked({ papers: { deadlines: [{ what: 'Application', by, isDone }] } });
    expect(of(checks, `deadline ${by} Application`)).toMatchObject({ is, sentence: expect.stringMatching(words) });
  });
});

describe('days of the calendar', () => {
  it('PL921: are counted over the end of summer time and a leap day', () => {
    expect(daysBetween('2026-10-24', '2026-10-26')).toBe(2);
    expect(daysBetween('2028-02-28', '2028-03-01')).toBe(2);
    expect([isDay('2026-02-30'), isDay('2028-02-29'), isDay('26-02-03')]).toEqual([false, true, false]);
    expect(dayInWords('2026-03-01')).toBe('1 March 2026');
  });

  it('PL924: who is born on a leap day is older on 1 March', () => {
    expect([ageOn('2008-02-29', '2026-02-28'), ageOn('2008-02-29', '2026-03-01')]).toEqual([17, 18]);
  });
});

const body: KitItem = {
  kind: 'body',
  name: 'Body A',
  count: 1,
  serial: '4711',
  value: { amount: 2400, currency: 'GBP' },
  isInsured: true,
  weightG: 900,
  framesACharge: 1200,
};
const lens: KitItem = {
  kind: 'lens',
  name: 'Long zoom',
  count: 1,
  serial: '4712',
  value: { amount: 1900, currency: 'GBP' },
  isInsured: true,
  weightG: 1400,
  focalMm: [100, 400],
};
const card: KitItem = {
  kind: 'card',
  name: 'Fast card',
  count: 2,
  value: { amount: 60, currency: 'GBP' },
  isInsured: true,
  capacityGb: 64,
  weightG: 10,
};
const battery: KitItem = {
  kind: 'battery',
  name: 'Battery',
  count: 6,
  value: { amount: 80, currency: 'GBP' },
  isInsured: true,
  weightG: 80,
};
const rest: readonly KitItem[] = [
  {
    kind: 'cover',
    name: 'Rain cover',
    count: 1,
    value: { amount: 20, currency: 'GBP' },
    isInsured: true,
    weightG: 200,
  },
  { kind: 'ears', name: 'Foam plugs', count: 1, value: { amount: 1, currency: 'GBP' }, isInsured: true, weightG: 5 },
  { kind: 'disk', name: 'Small disk', count: 2, value: { amount: 90, currency: 'GBP' }, isInsured: true },
];
const kit = [body, lens, card, battery, ...rest];

describe('kit', () => {
  it('PL927: insured for what it is worth is one settled line', () => {
    expect(checkKit(kit, own)).toEqual([
      { id: 'kit-insured', is: 'settled', sentence: 'The kit is worth 5,101 GBP and insured for 9,000 GBP.' },
    ]);
  });

  it('PL927: insured for too little says what share of a loss is paid', () => {
    const checks = checkKit(kit, { kitInsured: { amount: 2550.5, currency: 'GBP' } });
    expect(of(checks, 'kit-insured')).toMatchObject({
      is: 'missing',
      sentence: expect.stringMatching(/in proportion, 50 %/),
    });
  });

  it('PL927: names what is not insured, has no value or no serial number, and never sums two currencies', () => {
    const { serial: _, value: __, ...bare } = lens;
    const checks = checkKit([body, bare, { ...card, isInsured: false }], own);
    expect(of(checks, 'uninsured')).toMatchObject({ is: 'missing', sentence: 'Not insured: Fast card.' });
    expect(of(checks, 'serials').sentence).toMatch(/Long zoom/);
    expect(of(checks, 'kit-insured').sentence).toMatch(/No value is written down of: Long zoom/);
    expect(of(checkKit([{ ...body, value: { amount: 1, currency: 'EUR' } }], own), 'kit-insured').is).toBe('mind');
    expect(checkKit([], own)).toMatchObject([{ is: 'missing' }]);
  });

  it('PL927: a serial number is in no sentence', () => {
    expect(JSON.stringify([checkKit(kit, {}), packed({}).lines])).not.toMatch(/4711|4712/);
  });

  it('PL928: what is carried is weighed, disks stay in the van, and what is not weighed is counted', () => {
    expect(carriedOf(kit)).toEqual({ kg: 3.005, unweighed: 0 });
    const { weightG: _, ...unweighed } = body;
    expect(carriedOf([unweighed, lens])).toEqual({ kg: 1.4, unweighed: 1 });
  });
});

const spot = (number: number, focalMm?: readonly [number, number]): CircuitSpot => ({
  id: `s${number}` as SpotId,
  number,
  name: `Spot ${number}`,
  place: { longitudeDeg: 0 as Degrees, latitudeDeg: 52 as Degrees },
  viewAzimuthDeg: 0 as Degrees,
  ...(focalMm ? { focalMm } : {}),
});
const stays: readonly CareStay[] = [
  { spot: spot(1), from: wallMsOf(0), to: wallMsOf(28_800_000), distanceM: 15 as Metres, bikesOut: 30 },
];

function packed(more: Partial<Parameters<typeof packingList>[0]>) {
  const lines = packingList({
    kit,
    papers,
    spots: [],
    sessions: 20,
    care: careOfDay({ stays, air: { temperatureC: 33, humidityPercent: 50 } }),
    hasProtector: true,
    ...more,
  });
  return { lines, of: (id: string) => of(lines, id) };
}

describe('packing', () => {
  it('PL928: every spot of the plan has a lens, or is named as without', () => {
    const two = packed({ spots: [spot(1, [200, 300]), spot(2, [500, 600])] });
    expect(two.of('lens Long zoom')).toMatchObject({ is: 'open', sentence: 'Long zoom, for 1 Spot 1.' });
    expect(two.of('lens s2')).toMatchObject({
      is: 'missing',
      sentence: expect.stringMatching(/500 to 600 mm for spot 2/),
    });
  });

  it('PL928: cards for the frames expected, by the plan as a guess or by a word', () => {
    expect(framesExpected({ papers, sessions: 20 })).toMatchObject({ usual: 7000, most: 8880 });
    expect(packed({}).of('cards')).toMatchObject({
      is: 'open',
      sentence: expect.stringMatching(/7,000 frames \(a guess: .* up to 107 GB/),
    });
    expect(packed({ kit: [body, { ...card, count: 1 }] }).of('cards')).toMatchObject({
      is: 'missing',
      sentence: expect.stringMatching(/hold 64 GB/),
    });
    expect(packed({ papers: { ...papers, framesExpected: 3000 } }).of('cards').sentence).toMatch(
      /3,000 frames \(as you said\): up to 36 GB/,
    );
    expect(packed({ sessions: null }).of('cards').sentence).toMatch(/not known/);
  });

  it('PL928: batteries by the frames a charge, one in each body at least, and a spare', () => {
    expect(packed({}).of('batteries')).toMatchObject({
      is: 'missing',
      sentence: expect.stringMatching(/^9 charged batteries: 8,880 frames at 1,200/),
    });
    expect(packed({ papers: { ...papers, framesExpected: 6000 } }).of('batteries')).toMatchObject({
      is: 'open',
      sentence: expect.stringMatching(/^6 charged/),
    });
    const { framesACharge: _, ...uncounted } = body;
    expect(packed({ kit: [{ ...uncounted, count: 2 }, battery] }).of('batteries').sentence).toMatch(
      /^3 charged batteries: one in each body/,
    );
  });

  it('PL928: rain, ears, boots, water and sun are always on it', () => {
    const ids = packed({}).lines.map(({ id }) => id);
    for (const id of ['rain-cover', 'ears', 'boots', 'water', 'sun', 'food', 'papers', 'disks'])
      expect(ids).toContain(id);
    expect(packed({}).of('water').sentence).toMatch(/8 l/);
    expect(
      packed({ kit: [rest[0]!], hasProtector: false })
        .lines.filter(({ is }) => is === 'missing')
        .map(({ id }) => id),
    ).toEqual(['cards', 'batteries', 'ears', 'disks']);
  });

  it('PL928: with no kit written down that is the one thing missing, the rest is still to be packed', () => {
    const bare = packed({ kit: [], spots: [spot(1, [200, 300])] });
    expect(bare.lines.map(({ is }) => is)).toEqual(bare.lines.map(() => 'open'));
    expect(bare.of('lenses').sentence).toMatch(/200 to 300 mm/);
    expect(checkKit([], {})).toMatchObject([{ id: 'kit', is: 'missing' }]);
  });

  it('PL928: a tick settles a line, but never what the kit does not have', () => {
    const ticked = packed({ kit: [body], papers: { ...papers, packed: ['boots', 'cards'] } });
    expect(ticked.of('boots').is).toBe('settled');
    expect(ticked.of('cards').is).toBe('missing');
  });
});

describe('the page', () => {
  const input: BeforeInput = {
    office: { own, kit: [...kit, { ...battery, count: 3 }], meetings: { m1: papers } },
    meeting: { id: 'm1', firstDay: in2026.firstDay, lastDay: in2026.lastDay },
    today: in2026.today,
    spots: [spot(1, [200, 300])],
    sessions: 20,
    care: careOfDay({ stays }),
  };

  it('PL929: says in one sentence how things stand', () => {
    const open = beforePage(input);
    expect(open.headline).toMatch(/^6 days to go: nothing is missing, \d+ to pack\.$/);
    const ticks = open.packing.map(({ id }) => id);
    const all = { ...input, office: { ...input.office, meetings: { m1: { ...papers, packed: ticks } } } };
    expect(beforePage({ ...all, today: '2026-06-19' }).headline).toBe('Tomorrow: nothing is missing, all is packed.');
    const { own: _, ...without } = input.office;
    expect(beforePage({ ...input, office: { ...without, own: {} } }).headline).toMatch(/things are missing/);
  });

  it('PL929: a meeting of which nothing is written down has its own page, with what is missing', () => {
    const page = beforePage({ ...input, meeting: { ...input.meeting, id: 'other' } });
    expect(page.papers.filter(({ is }) => is === 'missing').map(({ id }) => id)).toEqual([
      'accreditation',
      'right-to-sell',
      'sign-on',
      'briefing',
    ]);
  });

  it('PL929: whatever is said and not said, every line has an id of its own and a whole sentence', () => {
    const some = <T>(value: T) => fc.option(fc.constant(value), { nil: undefined });
    fc.assert(
      fc.property(
        fc.subarray(kit),
        fc.record({ a: some(own.born), c: some(own.certificate), k: some(own.kitInsured), p: some(own.protector) }),
        fc.boolean(),
        fc.option(fc.nat(42), { nil: null }),
        (things, { a, c, k, p }, isSaid, sessions) => {
          const page = beforePage({
            ...input,
            sessions,
            office: {
              own: {
                ...(a ? { born: a } : {}),
                ...(c ? { certificate: c } : {}),
                ...(k ? { kitInsured: k } : {}),
                ...(p ? { protector: p } : {}),
              },
              kit: things,
              meetings: isSaid ? { m1: papers } : {},
            },
          });
          const lines = [...page.papers, ...page.kit, ...page.packing];
          expect(new Set(lines.map(({ id }) => id)).size).toBe(lines.length);
          for (const { sentence } of lines) {
            expect(sentence).toMatch(/^\S.*[.)]$/);
            expect(sentence).not.toMatch(/undefined|NaN|Infinity|null/);
          }
        },
      ),
    );
  });
});
