/** The invented meeting's plan: place, spots, bodies, timetable, stands, and what went otherwise on the day. */
import type { SpotId } from '../../src/core/ids.js';
import type { Timetable } from '../../src/core/plan/types.js';
import { millisecondsOf, type WallMs, wallMsOf } from '../../src/core/units.js';

export const DATE = '2031-09-20';
export const ZONE = 'Europe/London';
export const MEETING = {
  name: 'Ropewalk Track Days at Ebbstone',
  circuit: 'Ebbstone',
  date: DATE,
  zone: ZONE,
} as const;

/** Zoneless wall time of the day. */
export const wallAt = (hours: number, minutes: number, seconds = 0): WallMs =>
  wallMsOf(Date.parse(`${DATE}T00:00:00Z`) + ((hours * 60 + minutes) * 60 + seconds) * 1000);

export type SpotName = 'beacon' | 'gannet' | 'slipway';
export const SPOTS = [
  { id: 'beacon', number: 1, name: 'Beacon' },
  { id: 'gannet', number: 2, name: 'Gannet' },
  { id: 'slipway', number: 3, name: 'Slipway' },
] as const satisfies readonly { id: SpotName; number: number; name: string }[];
/** Share of a lap from the pit exit to each spot. */
export const LAP_SHARE: Readonly<Record<SpotName, number>> = { beacon: 0.24, gannet: 0.52, slipway: 0.81 };

export type BodyName = 'A' | 'B';
export interface Body {
  readonly name: BodyName;
  readonly make: string;
  readonly model: string;
  readonly serial: string;
  readonly lens: string;
  /** Seconds by which its clock is ahead. */
  readonly fastS: number;
  readonly framesPerSecond: number;
  /** `+01:00` where the camera writes its zone. */
  readonly offsetTag: string | null;
  readonly firstFile: { readonly folder: number; readonly file: number };
}
export const BODIES: readonly Body[] = [
  {
    name: 'A',
    make: 'Halvard Optical',
    model: 'HX-7',
    serial: '70031044',
    lens: 'HX 150-600mm F5-6.3',
    fastS: 0,
    framesPerSecond: 8,
    offsetTag: '+01:00',
    firstFile: { folder: 100, file: 9979 },
  },
  {
    name: 'B',
    make: 'Halvard Optical',
    model: 'HX-7',
    serial: '70029871',
    lens: 'HX 70-300mm F4-5.6',
    fastS: 3660,
    framesPerSecond: 6,
    offsetTag: null,
    firstFile: { folder: 101, file: 1 },
  },
];
/** As metadata readers spell a body: make, model, serial. */
export const bodyKeyOf = (body: Body): string => `${body.make}|${body.model}|${body.serial}`;

export const GROUPS = [
  { key: 'N', name: 'Novice' },
  { key: 'I', name: 'Inters' },
  { key: 'F', name: 'Fast' },
] as const;
export type GroupKey = (typeof GROUPS)[number]['key'];

/** Nobody laps faster than this. */
export const FASTEST_LAP_S = 96;

export const TIMETABLE: Timetable = {
  groups: GROUPS,
  slots: [
    { name: 'N1', group: 'N', start: wallAt(10, 0), end: wallAt(10, 20), isSighting: true },
    { name: 'I1', group: 'I', start: wallAt(10, 25), end: wallAt(10, 45) },
    { name: 'F1', group: 'F', start: wallAt(10, 50), end: wallAt(11, 10) },
    { name: 'N2', group: 'N', start: wallAt(13, 30), end: wallAt(13, 50) },
    { name: 'I2', group: 'I', start: wallAt(13, 55), end: wallAt(14, 15) },
  ],
  slipRule: 'sliding',
  fastestLapMs: millisecondsOf(FASTEST_LAP_S * 1000),
};

export interface RealSession {
  readonly name: string;
  readonly group: GroupKey;
  readonly start: WallMs;
  readonly end: WallMs;
  readonly half: 'morning' | 'afternoon';
  readonly isSighting: boolean;
  /** The field stood in the pits. */
  readonly hold: { readonly from: WallMs; readonly to: WallMs } | null;
  readonly spotOf: Readonly<Record<BodyName, SpotName>>;
}
/** As they ran: I1 was held for seven minutes, F1 came late for it, and lunch swallowed all but three. */
export const SESSIONS: readonly RealSession[] = [
  {
    name: 'N1',
    group: 'N',
    start: wallAt(10, 0, 20),
    end: wallAt(10, 20, 10),
    half: 'morning',
    isSighting: true,
    hold: null,
    spotOf: { A: 'beacon', B: 'gannet' },
  },
  {
    name: 'I1',
    group: 'I',
    start: wallAt(10, 25, 10),
    end: wallAt(10, 52, 5),
    half: 'morning',
    isSighting: false,
    hold: { from: wallAt(10, 33, 30), to: wallAt(10, 40, 30) },
    spotOf: { A: 'beacon', B: 'gannet' },
  },
  {
    name: 'F1',
    group: 'F',
    start: wallAt(10, 57, 0),
    end: wallAt(11, 17, 0),
    half: 'morning',
    isSighting: false,
    hold: null,
    spotOf: { A: 'slipway', B: 'gannet' },
  },
  {
    name: 'N2',
    group: 'N',
    start: wallAt(13, 33, 0),
    end: wallAt(13, 53, 5),
    half: 'afternoon',
    isSighting: false,
    hold: null,
    spotOf: { A: 'slipway', B: 'beacon' },
  },
  {
    name: 'I2',
    group: 'I',
    start: wallAt(13, 58, 10),
    end: wallAt(14, 18, 0),
    half: 'afternoon',
    isSighting: false,
    hold: null,
    spotOf: { A: 'slipway', B: 'beacon' },
  },
];

export interface TrueStand {
  readonly spot: SpotId;
  readonly body: string;
  readonly from: WallMs;
  readonly to: WallMs;
}
/** Each body's stays, one session after another at one spot joined. */
export function standsOf(): TrueStand[] {
  const stands: TrueStand[] = [];
  for (const body of BODIES)
    for (const session of SESSIONS) {
      const spot = session.spotOf[body.name] as unknown as SpotId;
      const last = stands.at(-1);
      const end = wallMsOf(session.end + 60_000);
      const goesOn = last && last.body === bodyKeyOf(body) && last.spot === spot && session.start - last.to < 1_800_000;
      if (goesOn) stands[stands.length - 1] = { ...last, to: end };
      else stands.push({ spot, body: bodyKeyOf(body), from: wallMsOf(session.start - 120_000), to: end });
    }
  return stands;
}

export type CardName = 'morning-a' | 'morning-b' | 'afternoon-a' | 'afternoon-b';
export const cardOf = (session: RealSession, body: BodyName): CardName => `${session.half}-${body === 'A' ? 'a' : 'b'}`;
