/** Which passes each body photographs, and the frames of each burst: the day as a list of exposures without pictures. */
import { type Random, randomFrom } from '../render/noise.js';
import { FIELD, type FieldRider } from './field.js';
import { type PassBy, passesAt, type Running, runSession } from './laps.js';
import {
  BODIES,
  type Body,
  type BodyName,
  type CardName,
  cardOf,
  type RealSession,
  SESSIONS,
  type SpotName,
} from './meeting.js';

export interface Exposure {
  readonly card: CardName;
  readonly body: Body;
  /** Corrected wall time, milliseconds. */
  readonly wall: number;
  readonly session: RealSession;
  readonly spot: SpotName;
  readonly role: 'bike' | 'divider';
  readonly riders: readonly FieldRider[];
  /** Seconds from the leader to the follower. */
  readonly gapS: number;
  readonly pass: number;
  /** Place in the burst and its length. */
  readonly inBurst: number;
  readonly burst: number;
  readonly isSlow: boolean;
  readonly blur: 'sharp' | 'motion' | 'defocus' | null;
  readonly isPortrait: boolean;
  readonly seed: number;
}

/** Two who ride together, per session. */
const PAIRS: Readonly<Record<string, readonly (readonly [string, string])[]>> = {
  N1: [['n02', 'n08']],
  I1: [
    ['i02', 'i10'],
    ['i07', 'i09'],
  ],
  F1: [['f01', 'f06']],
  N2: [['n07', 'n01']],
  I2: [['i03', 'i08']],
};
/** Nobody pressed the shutter at the sky here. */
const FORGOTTEN_DIVIDER = { session: 'I1', body: 'A' } as const;
const PORTRAIT_SESSION = { session: 'F1', body: 'A', rider: 'f05' } as const;
const isPortraitOf = (session: RealSession, body: Body, pass: PassBy): boolean =>
  session.name === PORTRAIT_SESSION.session &&
  body.name === PORTRAIT_SESSION.body &&
  pass.rider.truth.key === PORTRAIT_SESSION.rider;
const BUSY_S = 1.6;

const groupOf = (rider: FieldRider, session: RealSession): string => rider.groups[session.half === 'morning' ? 0 : 1];

export function photographTheDay(): Exposure[] {
  let passCount = 0;
  const exposures: Exposure[] = [];
  SESSIONS.forEach((session, sessionIndex) => {
    const random = randomFrom(4100 + sessionIndex);
    const riders = FIELD.filter((r) => groupOf(r, session) === session.group);
    const running = runSession(session, riders, PAIRS[session.name] ?? [], random);
    for (const body of BODIES) {
      const divider = dividerOf(session, body, sessionIndex);
      if (divider) exposures.push(divider);
      const spot = session.spotOf[body.name];
      const chosen = chosenPasses(
        session,
        body.name,
        spot,
        running,
        randomFrom(5200 + sessionIndex * 2 + (body.name === 'A' ? 0 : 1)),
      );
      const portrait = chosen.find((p) => isPortraitOf(session, body, p));
      for (const pass of chosen) exposures.push(...burstOf(session, body, spot, pass, passCount++, pass === portrait));
    }
  });
  return exposures.sort((a, b) => (a.body.name < b.body.name ? -1 : a.body.name > b.body.name ? 1 : a.wall - b.wall));
}

/** Both photographers press at the same radio call, within a third of a second. */
function dividerOf(session: RealSession, body: Body, index: number): Exposure | null {
  if (session.name === FORGOTTEN_DIVIDER.session && body.name === FORGOTTEN_DIVIDER.body) return null;
  const lateMs = body.name === 'A' ? 0 : [240, -180, 90, -260, 130][index]!;
  return {
    card: cardOf(session, body.name),
    body,
    wall: session.start + 4_000 + index * 370 + lateMs,
    session,
    spot: session.spotOf[body.name],
    role: 'divider',
    riders: [],
    gapS: 0,
    pass: -1,
    inBurst: 0,
    burst: 1,
    isSlow: false,
    blur: null,
    isPortrait: false,
    seed: 9000 + index * 2 + (body.name === 'A' ? 0 : 1),
  };
}

/** One or two passes a rider, spread over the session, never two bursts at once. */
function chosenPasses(
  session: RealSession,
  body: BodyName,
  spot: SpotName,
  running: readonly Running[],
  random: Random,
): PassBy[] {
  const all = passesAt(spot, running).filter((p) => !p.company || p.company.gapS > 0);
  const chosen: PassBy[] = [];
  const isFree = (p: PassBy): boolean => chosen.every((c) => Math.abs(c.at - p.at) > BUSY_S);
  const leaders = running.filter((r) => !r.company || r.company.gapS > 0);
  for (const { rider, company } of leaders) {
    const own = all.filter((p) => p.rider === rider);
    const wanted = company ? 1 : random.isTrue(body === 'A' ? 0.55 : 0.45) ? 2 : 1;
    const sighting = session.isSighting && random.isTrue(0.3) ? own.find((p) => p.isSlow && isFree(p)) : undefined;
    if (sighting) chosen.push(sighting);
    for (let k = sighting ? 1 : 0; k < wanted; k++) {
      const free = own.filter((p) => !chosen.includes(p) && isFree(p) && (!p.isSlow || own.length < 4));
      if (free.length > 0) chosen.push(random.oneOf(free));
    }
  }
  return chosen.sort((a, b) => a.at - b.at);
}

function burstOf(
  session: RealSession,
  body: Body,
  spot: SpotName,
  pass: PassBy,
  passIndex: number,
  isPortrait: boolean,
): Exposure[] {
  const random = randomFrom(70_000 + passIndex * 13);
  const u = random();
  const burst = isPortrait ? 1 : u < 0.74 ? 2 : u < 0.94 ? 3 : 4;
  return Array.from({ length: burst }, (_, inBurst): Exposure => {
    const b = random();
    const jitterMs = Math.round(random.between(-6, 6));
    return {
      card: cardOf(session, body.name),
      body,
      session,
      spot,
      role: 'bike',
      wall:
        session.start +
        Math.round((pass.at + (inBurst - (burst - 1) / 2) / body.framesPerSecond) * 100) * 10 +
        (inBurst > 0 ? Math.round(jitterMs / 10) * 10 : 0),
      riders: pass.company ? [pass.rider, pass.company.rider] : [pass.rider],
      gapS: pass.company?.gapS ?? 0,
      pass: passIndex,
      inBurst,
      burst,
      isSlow: pass.isSlow,
      isPortrait,
      blur: isPortrait || inBurst === 0 ? 'sharp' : b < 0.1 ? 'motion' : b < 0.18 ? 'defocus' : 'sharp',
      seed: 20_000 + passIndex * 5 + inBurst,
    };
  });
}
