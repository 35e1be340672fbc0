import { describe, expect, it } from 'vitest';
import { EBBSTONE } from '../../../demo/circuit/ebbstone.js';
import type { SpotId } from '../../core/ids.js';
import type { Decision } from '../../core/log/types.js';
import { NOTHING_SAID, type Office } from '../../core/office/index.js';
import type { Circuit, CircuitSpot } from '../../core/plan/circuit/types.js';
import { type Degrees, type Metres, metresOf, millisecondsOf, wallMsOf } from '../../core/units.js';
import { pageOf } from './pageOf.js';
import type { PlannedState } from './plannedDay.js';

const place = (east: number, north: number) => ({
  longitudeDeg: (east / 68_700) as Degrees,
  latitudeDeg: (52 + north / 111_200) as Degrees,
});
const spot = (
  id: string,
  number: number,
  at: ReturnType<typeof place>,
  more: Partial<CircuitSpot> = {},
): CircuitSpot => ({
  id: id as SpotId,
  number,
  name: `Spot ${number}`,
  place: at,
  viewAzimuthDeg: 0 as Degrees,
  focalMm: [200, 300],
  ...more,
});
/** 800 by 400 m, run clockwise; both spots lie south of it and look north. */
const circuit: Circuit = {
  name: 'Invented',
  zone: 'Europe/London',
  direction: 'clockwise',
  centreline: [place(0, 0), place(0, 400), place(800, 400), place(800, 0)],
  bends: [],
  ways: [
    {
      id: 'bank',
      line: [place(100, -30), place(600, -30)],
      kind: 'path',
      crossing: 'none',
      onFoot: 'anyone',
      byVehicle: 'nobody',
    },
  ],
  spots: [spot('west', 1, place(200, -25)), spot('east', 2, place(500, -20), { caution: 'Wet grass.' })],
  paddock: place(100, -35),
  lapRecordMs: millisecondsOf(90_000),
};
const at = (date: string, clock: string) => wallMsOf(Date.parse(`${date}T${clock}:00Z`));
const slot = (name: string, date: string, start: string, end: string) => ({
  name,
  group: name[0]!,
  start: at(date, start),
  end: at(date, end),
});
const slots = [
  slot('N1', '2026-06-20', '09:00', '09:20'),
  slot('I1', '2026-06-20', '09:20', '09:40'),
  slot('N2', '2026-06-20', '13:00', '13:20'),
  slot('N9', '2026-06-21', '10:00', '10:20'),
];
const stay = (stretch: string, id: string) => ({ photographer: 0, stretch, spot: id as SpotId });
const plan: Decision = {
  kind: 'plan-taken',
  at: wallMsOf(0),
  stays: [stay('N1', 'west'), stay('I1 second half', 'west'), stay('N2', 'east'), stay('N9', 'east')],
};

function stateOf(...said: readonly Decision[]): PlannedState {
  return {
    about: {
      id: 'm1' as PlannedState['about']['id'],
      format: 1,
      name: 'Invented',
      firstDay: '2026-06-20',
      lastDay: '2026-06-21',
      zone: 'Europe/London',
      spots: [],
    },
    timetable: { groups: [], slots, slipRule: 'clock-fixed' },
    log: { inForce: said.map((decision) => ({ decision })) },
  };
}

const office: Office = {
  own: { protector: { name: 'foam plugs', rating: { kind: 'snr', snrDb: 28 } } },
  kit: [{ kind: 'body', name: 'Body A', count: 1, weightG: 900 }],
  meetings: { m1: { ...NOTHING_SAID, temperatureC: 31, humidityPercent: 50, driveHomeMinutes: 150 } },
};
const page = (state: PlannedState, more: Office = office, date?: string) => pageOf(state, more, '2026-06-14', date);

describe('the page of a meeting', () => {
  const said: readonly Decision[] = [
    { kind: 'circuit', circuit },
    plan,
    { kind: 'head-count', at: wallMsOf(0), group: 'N', riders: 17 },
  ];

  it('PL932: a plan that was taken gives stays with distances, bikes out, sun, kilometres and lenses, day by day', () => {
    const { care, page: list, date } = page(stateOf(...said));
    expect(date).toBe('2026-06-20');
    if (care.noise.kind === 'no-stays') throw new Error(care.noise.sentence);
    const stays = care.noise.stays.map(({ stay: one, minutes }) => [
      one.spot.id,
      Math.round(one.distanceM),
      one.bikesOut,
      minutes,
    ]);
    expect(stays).toEqual([
      ['west', 25, 17, 20],
      ['west', 25, undefined, 10],
      ['east', 20, 17, 20],
    ]);
    // At midsummer noon the sun stands at 90 − 52 + 23.4°, and 13:00 by the clock is noon by the sun, near enough.
    if (care.uv.kind !== 'at-most') throw new Error(care.uv.sentence);
    expect(care.uv.highestIndex).toBeCloseTo(12.5 * Math.sin((61.4 * Math.PI) / 180) ** 2.42, 1);
    expect(care.heat).toMatchObject({ kind: 'heat', isHot: true });
    // 100 m out, 100 m back for lunch, 400 m out and back, and steps over the grass.
    expect(care.body[0]).toMatch(/^1\.[01] km/);
    expect(care.body.join(' ')).toMatch(/0\.9 kg.*2 h 30 min.*one break/);
    expect(care.cautions.find((one) => one.spot?.id === 'east')?.sentence).toBe('Wet grass.');
    expect(list.packing.find(({ id }) => id === 'lenses')).toMatchObject({
      is: 'missing',
      sentence: expect.stringMatching(/^Lenses from 200 to 300 mm/),
    });
    expect(list.packing.find(({ id }) => id === 'cards')?.sentence).toMatch(/3 sessions/);
  });

  it('PL932: another day of the meeting is its own dose', () => {
    const { care } = page(stateOf(...said), office, '2026-06-21');
    if (care.noise.kind === 'no-stays') throw new Error(care.noise.sentence);
    expect(care.noise.stays).toHaveLength(1);
  });

  it('PL932: without a plan where one says that one stands counts, and without either nothing is made up', () => {
    const stand: Decision = {
      kind: 'stood-at',
      spot: 'west' as SpotId,
      from: at('2026-06-20', '09:10'),
      to: at('2026-06-20', '12:00'),
    };
    const { care } = page(stateOf(said[0]!, stand));
    if (care.noise.kind === 'no-stays') throw new Error(care.noise.sentence);
    expect(care.noise.stays.map(({ minutes }) => minutes)).toEqual([10, 20]);
    const bare = page(stateOf());
    expect(bare.care).toMatchObject({ noise: { kind: 'no-stays' }, uv: { kind: 'unknown' }, drinking: null });
    expect(bare.page.packing.find(({ id }) => id === 'cards')?.sentence).toMatch(/not known/);
  });

  it('PL932: a bend that is only drawn has its caution, a straight has none', () => {
    const everywhere: Decision = {
      kind: 'plan-taken',
      at: wallMsOf(0),
      stays: EBBSTONE.spots.map(({ id }, i) => stay(slots[i % 3]!.name, id)),
    };
    const { care } = page(stateOf({ kind: 'circuit', circuit: EBBSTONE }, everywhere));
    const warned = care.cautions.filter(({ sentence }) => sentence.startsWith('A bend')).map(({ spot: one }) => one!);
    expect(warned.length).toBeGreaterThan(2);
    expect(warned.length).toBeLessThan(EBBSTONE.spots.length);
    for (const { moments } of warned) expect(moments).not.toEqual(['straight']);
  });

  it('PL112: a way that wants a permit is walked only after somebody said that it is had', () => {
    const barred: Circuit = { ...circuit, ways: circuit.ways.map((way) => ({ ...way, onFoot: 'with-permit' })) };
    const walked = (...more: readonly Decision[]) =>
      page(stateOf({ kind: 'circuit', circuit: barred }, plan, ...more)).care.body[0];
    const notKnown = /^How far you walk is not known/;
    expect(walked()).toMatch(notKnown);
    expect(walked({ kind: 'permit', has: true })).toMatch(/^1\.[01] km/);
    expect(walked({ kind: 'permit', has: true }, { kind: 'permit', has: false })).toMatch(notKnown);
  });

  it('PL932: a reading here stands before the guess', () => {
    const noise = { levelDb: 93, atM: metresOf(15) as Metres };
    const read = page(stateOf(...said), { ...office, meetings: { m1: { ...office.meetings.m1!, noise } } });
    expect(read.care.noise.kind).toBe('from-a-reading');
  });
});
