/** An invented day, made by hand: three groups, six spots on a ring, one photographer. */
import type { SpotId } from '../../../ids.js';
import { degreesOf, metresOf, millisecondsOf, unitIntervalOf, type WallMs, wallMsOf } from '../../../units.js';
import type { Circuit, CircuitSpot, Place } from '../../circuit/types.js';
import type { SunRow } from '../../light/types.js';
import type { Stand, TimetableSlot } from '../../types.js';
import type { SheetInput, WatchLine } from '../types.js';

export const DAY = wallMsOf(Date.UTC(2031, 4, 17));
/** `13:05` on the day. */
export const at = (clock: string): WallMs => {
  const [hours, minutes] = clock.split(':').map(Number) as [number, number];
  return wallMsOf(DAY + (hours * 60 + minutes) * 60_000);
};

export const GROUPS = [
  { key: 'N', name: 'Novice' },
  { key: 'I', name: 'Inters' },
  { key: 'F', name: 'Fast' },
];

/** Seven rounds of three groups, 20 min each, from 9; lunch from 13 to 14. */
export const SLOTS: readonly TimetableSlot[] = Array.from({ length: 21 }, (_, i) => {
  const start = wallMsOf(at('09:00') + (i + (i < 12 ? 0 : 3)) * 20 * 60_000);
  const group = GROUPS[i % 3]!.key;
  return { name: `${group}${Math.floor(i / 3) + 1}`, group, start, end: wallMsOf(start + 20 * 60_000) };
});

const NAMES = ['Beacon', 'Gannet', 'Lifeboat', 'Strand', 'Slipway', 'Coble'];
export const spotId = (number: number): SpotId => `spot-${number}` as SpotId;

const around = (deg: number, metres: number): Place => ({
  longitudeDeg: degreesOf(-1.2 + (metres * Math.sin((deg * Math.PI) / 180)) / 66_700),
  latitudeDeg: degreesOf(53.5 + (metres * Math.cos((deg * Math.PI) / 180)) / 111_300),
});

const SPOTS: readonly CircuitSpot[] = NAMES.map((name, i) => ({
  id: spotId(i + 1),
  number: i + 1,
  name,
  place: around(i * 60, i % 2 === 0 ? 460 : 350),
  viewAzimuthDeg: degreesOf(i % 2 === 0 ? (i * 60 + 180) % 360 : i * 60),
  distanceM: metresOf(40),
}));

export const CIRCUIT: Circuit = {
  name: 'Ebbstone',
  zone: 'Europe/London',
  direction: 'clockwise',
  centreline: Array.from({ length: 72 }, (_, i) => around(i * 5, 400 + 50 * Math.cos((i * Math.PI) / 12))),
  bends: [],
  ways: [
    {
      id: 'bridge',
      line: [around(0, 460), around(0, 200), around(60, 200), around(60, 350)],
      kind: 'path',
      crossing: 'bridge',
      onFoot: 'anyone',
      byVehicle: 'nobody',
    },
    {
      id: 'round',
      line: Array.from({ length: 30 }, (_, i) => around(90 + i * 8, 520)),
      kind: 'service-road',
      crossing: 'none',
      onFoot: 'with-permit',
      byVehicle: 'with-permit',
    },
  ],
  spots: SPOTS,
  paddock: around(170, 560),
  lapRecordMs: millisecondsOf(72_000),
};

export const stand = (number: number, from: string, to: string): Stand => ({
  spot: spotId(number),
  from: at(from),
  to: at(to),
});

export const watched = (group: string, i: number, more: Partial<WatchLine> = {}): WatchLine => ({
  group,
  words: ['white', 'yellow / green', 'purple / lime', 'navy / white'][i % 4]!,
  paint: [['#f4f4f0'], ['#e8c820', '#1d7a3c'], ['#6a3d9a', '#b5d334'], ['#1c2b4a', '#f4f4f0']][i % 4]!,
  ...(i % 3 === 0 ? {} : { number: String(17 + i * 7) }),
  code: `${group}-${'abcdefghij'[i % 10]}`,
  leanDeg: degreesOf(28 + i),
  wheel: (['good', 'missed', 'unsure', 'to-come', 'to-come', 'missed'] as const).map(
    (arc, n, all) => all[(n + i) % 6] ?? arc,
  ),
  isNeverSeen: false,
  ...more,
});

/** Light that turns once in the day; a drawing, not the sun. */
const SUN_ROWS: readonly SunRow[] = SPOTS.map(({ id }, i) => {
  const utc = (clock: string) => (at(clock) - 3_600_000) as SunRow['changes'][number];
  const points = Array.from({ length: 41 }, (_, n) => ({
    at: (utc('07:30') + n * 15 * 60_000) as SunRow['changes'][number],
    shade: unitIntervalOf((1 + Math.sin(n / 10 + i)) / 2),
  }));
  return {
    spot: id,
    threads: [
      { kind: 'whole', points },
      {
        kind: 'broken',
        points: [
          { at: utc('17:30'), shade: points.at(-1)!.shade },
          { at: utc('18:30'), shade: points.at(-1)!.shade },
        ],
      },
    ],
    changes: [utc('11:30'), utc('14:40')],
    words: [
      { from: utc('07:30'), to: utc('11:30'), word: 'front' },
      { from: utc('11:30'), to: utc('14:40'), word: 'side' },
      { from: utc('14:40'), to: utc('18:30'), word: 'back' },
    ],
  };
});

export const STANDS: readonly Stand[] = [
  stand(1, '08:55', '09:58'),
  stand(2, '10:04', '11:00'),
  stand(5, '11:07', '11:58'),
  stand(3, '12:04', '13:00'),
  stand(4, '13:55', '14:47'),
  stand(2, '14:54', '15:47'),
  stand(6, '15:53', '17:00'),
];

export const handMadeDay = (more: Partial<SheetInput> = {}): SheetInput => ({
  meeting: 'Ebbstone, Ropewalk Track Days',
  day: DAY,
  zone: 'Europe/London',
  printedAt: at('07:10'),
  groups: GROUPS,
  slots: SLOTS,
  lunch: { from: at('13:00'), to: at('14:00') },
  spots: SPOTS,
  circuit: CIRCUIT,
  source: { kind: 'stands', stands: STANDS },
  photographer: 0,
  photographers: 1,
  wayBetween: (from, to) =>
    from === null || to === null
      ? { kind: 'way', way: { minutes: 8, by: 'foot' } }
      : {
          kind: 'way',
          way:
            from === spotId(4)
              ? { minutes: 7, by: 'vehicle', words: 'by the tunnel' }
              : { minutes: 6, by: 'foot', words: 'over the bridge' },
        },
  lightWords: () => 'front',
  settings: (spot, group) => ({
    lens: spot === spotId(4) ? '100 mm, side-on' : '200 mm, apex',
    sure: group === 'F' ? 500 : 320,
    slow: 125,
  }),
  sunRows: SUN_ROWS,
  watch: [
    ...Array.from({ length: 11 }, (_, i) => watched('N', i)),
    ...Array.from({ length: 7 }, (_, i) => watched('I', i, i === 2 ? { isNumberGuessed: true } : {})),
    ...Array.from({ length: 5 }, (_, i) => watched('F', i, i === 1 ? { wants: 'knee down at Strand' } : {})),
    watched('N', 0, { isNeverSeen: true }),
    watched('F', 2, { isNeverSeen: true }),
  ],
  cautions: [
    { spot: null, sentence: 'Red flag: stand still, lens down and off anybody hurt, do what marshals say.' },
    { spot: SPOTS[3]!, sentence: 'A bend: never on its outside, where whoever falls goes.' },
  ],
  contacts: [
    { label: 'Circuit control' },
    { label: 'Clerk of the course' },
    { label: 'First aid', value: 'tower, channel 3' },
  ],
  times: { signOn: at('07:30'), briefing: at('08:20') },
  ...more,
});
