/** Passes → riders, with what was logged of an earlier learning, or else what the day itself teaches. */
import type { Bikes } from '../bikes.js';
import type { RawPass } from '../passes.js';
import type { Session } from '../types.js';
import type { Calibration } from './calibration.js';
import { chooseLook } from './chooseLook.js';
import { type Clustering, clusterPasses } from './clusterPasses.js';
import { estimateFastestLap } from './estimateLap.js';
import { type Field, fieldOf } from './field.js';
import { type GuessedGroups, guessGroups } from './guessGroups.js';
import { plainJoiner } from './joinPlainly.js';
import { type Look, looksOf } from './looks.js';
import { type PassNumbers, readPasses } from './numbers.js';

export interface RidersInput {
  readonly bikes: Bikes;
  readonly passes: readonly RawPass[];
  readonly sessions: readonly Session[];
  /** The fastest lap as somebody said it: it stands above an estimate. */
  readonly saidLapMs: number | null;
  readonly entryNumbers: readonly string[] | undefined;
  readonly passLikeness: number;
  readonly logged: Calibration | null;
}

interface Learnt {
  readonly look: Look;
  readonly field: Field;
}

export interface FoundRiders {
  readonly input: RidersInput;
  readonly clustering: Clustering;
  /** What was used, as it may be logged. */
  readonly calibration: Calibration;
}

/** @param before what was found last: where nothing that riders follow from has changed, it stands. */
export function findRiders(input: RidersInput, before: FoundRiders | null): FoundRiders {
  if (before !== null && isStillSo(input, before)) return { ...before, input };
  const { bikes, passes, sessions, saidLapMs, logged, passLikeness } = input;
  const looks = looksOf(passes, bikes);
  const known = logged?.dimensions === bikes.dimensions && logged.looks === looks.length ? logged : null;
  const numbers = readPasses(passes, bikes, input.entryNumbers ?? null);
  const learn = (grouped: (field: Field) => Field): Learnt => {
    const fieldWith = (lapMs: number | null): Field => grouped(fieldOf(passes, bikes, sessions, lapMs));
    const untimed = fieldWith(saidLapMs);
    const look = known === null ? chooseLook(looks, untimed) : looks[known.look]!;
    const estimatedLapMs = (): number | null =>
      known === null ? estimateFastestLap(untimed, look) : known.fastestLapMs;
    return { look, field: saidLapMs === null ? fieldWith(estimatedLapMs()) : untimed };
  };
  const asSaid = learn((field) => field);
  const guess = groupsOf(asSaid, numbers, known);
  const { look, field } = guess === null ? asSaid : learn((own) => ({ ...own, ...guess }));
  const clustering = clusterPasses(field, look, numbers, known);
  const calibration = {
    dimensions: bikes.dimensions,
    look: looks.indexOf(look),
    looks: looks.length,
    // A person's word is no measurement: of a lap that was said none is logged.
    fastestLapMs: saidLapMs === null ? field.fastestLapMs : (known?.fastestLapMs ?? null),
    passLikeness,
    ...clustering.thresholds,
  };
  return { input, clustering, calibration };
}

/** Null where somebody said the groups: what is learnt without them is learnt again when it is known who rides with whom. */
function groupsOf({ look, field }: Learnt, numbers: PassNumbers, known: Calibration | null): GuessedGroups | null {
  if (field.groups.length > 0 || field.sessionCount < 2) return null;
  const joiner = plainJoiner(field, look, numbers, known);
  return guessGroups(field, (careNats) => joiner.join({ ...field, careNats }).riders);
}

function isStillSo(input: RidersInput, { input: last, calibration }: FoundRiders): boolean {
  return (
    input.bikes === last.bikes &&
    input.saidLapMs === last.saidLapMs &&
    input.entryNumbers === last.entryNumbers &&
    isSameLearning(input.logged, last.logged, calibration) &&
    input.passes.length === last.passes.length &&
    input.passes.every((pass, p) => isSamePass(pass, last.passes[p]!)) &&
    input.sessions.length === last.sessions.length &&
    input.sessions.every((session, s) => isSameSession(session, last.sessions[s]!))
  );
}

/** What was learnt and then logged is the same. */
function isSameLearning(logged: Calibration | null, before: Calibration | null, used: Calibration): boolean {
  if (logged === null) return before === null;
  return Object.entries(used).every(([key, value]) => logged[key as keyof Calibration] === value);
}

const isSamePass = (a: RawPass, b: RawPass): boolean =>
  a.start === b.start &&
  a.end === b.end &&
  a.session === b.session &&
  a.spot === b.spot &&
  a.stand === b.stand &&
  a.body === b.body &&
  a.bikes.length === b.bikes.length &&
  a.bikes.every((bike, i) => bike === b.bikes[i]);

/** Of a session riders follow from its group, and from the pause before it. */
const isSameSession = (a: Session, b: Session): boolean =>
  a.group === b.group && a.start === b.start && a.end === b.end;
