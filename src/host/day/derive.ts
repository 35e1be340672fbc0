/** What follows from measurements and decisions: arrangement, coverage, keepers. Runs in the resident worker. */
import { type ArrangeMemory, arrangeAgain } from '../../core/arrange/index.js';
import type { Arrangement, KnownFile } from '../../core/arrange/types.js';
import { chooseKeepers, rememberingSets, takenWith } from '../../core/choose/index.js';
import type { Keepers, TakenWith } from '../../core/choose/types.js';
import {
  COVERAGE_RULES,
  type CoverInput,
  cover,
  headCountsOf,
  judgePasses,
  spotsInUse,
  standsOf,
} from '../../core/cover/index.js';
import type { Coverage, Entry } from '../../core/cover/types.js';
import type { FrameId, SpotId } from '../../core/ids.js';
import type { Judged } from '../../core/judge/types.js';
import type { Decision, DecisionKind, FoldedLog } from '../../core/log/types.js';
import type { FrameMeasurement } from '../../core/measure/types.js';
import {
  entryNumbersOf,
  entryWords,
  plain,
  type SaidOfTimetable,
  timetableInForce,
} from '../../core/plan/timetable/index.js';
import type { EntryLine } from '../../core/plan/timetable/types.js';
import type { Spot, Timetable } from '../../core/plan/types.js';
import type { WallMs } from '../../core/units.js';
import { rememberLast } from './rememberLast.js';
import { rememberingSpotFacts } from './spotFacts.js';

export interface KnownDay {
  readonly files: readonly KnownFile[];
  readonly pixels: ReadonlyMap<FrameId, FrameMeasurement>;
  /** By `bikeKeyOf`; absent: none was looked at closely. */
  readonly judged?: ReadonlyMap<string, Judged>;
  readonly log: FoldedLog;
  /** IANA zone of the meeting. */
  readonly zone: string;
  readonly spots: readonly { readonly id: string }[];
}

export interface Derived {
  readonly arrangement: Arrangement;
  readonly coverage: Coverage;
  readonly keepers: Keepers;
}

/** `now`: wall time in the meeting's zone, or null when the day is over. */
export type Derive = (known: KnownDay, now: WallMs | null) => Derived;

/** From nothing. */
export const derive: Derive = (known, now) => rememberingDerive()(known, now);

/**
 * A derive that keeps what the next one can use: after a decision about riders, frames or stands only what follows from
 * it is worked out. The answer is the same as from nothing; `files` and `pixels` must be other objects when what is in
 * them has changed.
 */
export function rememberingDerive(): Derive {
  let memory: ArrangeMemory | null = null;
  const timetableHeld = holding(timetableOf);
  const numbersHeld = holding((log) => entryNumbersOf(entriesOf(log) ?? []));
  const spotFacts = rememberingSpotFacts();
  const judgedHeld = rememberLast((arrangement: Arrangement, pixels: KnownDay['pixels']) =>
    judgePasses(arrangement, pixels, COVERAGE_RULES.goodFrame),
  );
  const takenHeld = rememberLast(takenBy);
  const covered = rememberingCover();
  const sets = rememberingSets();
  return ({ files, pixels, judged, log, zone, spots }, now) => {
    const timetable = timetableHeld(log);
    const entries = entriesOf(log);
    const numbers = entries === null ? {} : { entryNumbers: numbersHeld(log) };
    const calibration = calibrationOf(log);
    const again = arrangeAgain({ files, pixels, log, zone, timetable, calibration, ...numbers }, memory);
    memory = again.memory;
    const { arrangement } = again;
    const judgements = judgedHeld(arrangement, pixels);
    const coverage = covered({
      arrangement,
      pixels,
      timetable,
      judgements,
      stands: standsOf(log),
      spots: spotsInUse(spotsOf(log, spots), log, arrangement).map(({ id }) => ({ id: id as SpotId })),
      entries: entries?.map((entry) => toCover(entry, timetable)) ?? null,
      headCounts: headCountsOf(log),
      now,
    });
    const toChoose = {
      arrangement,
      coverage,
      pixels,
      log,
      judgements,
      ...(judged === undefined ? {} : { judged }),
      taken: takenHeld(arrangement, files),
      spots: spotFacts(log, timetable),
    };
    return { arrangement, coverage, keepers: chooseKeepers(toChoose, sets(toChoose)) };
  };
}

/** What people said of it is small, and compared by its text. */
function rememberingCover(): typeof cover {
  let last: { readonly input: CoverInput; readonly text: string; readonly coverage: Coverage } | null = null;
  return (input) => {
    const { arrangement, pixels, timetable, judgements, ...said } = input;
    const text = JSON.stringify(said);
    const isSame =
      last?.text === text &&
      last.input.arrangement === arrangement &&
      last.input.pixels === pixels &&
      last.input.timetable === timetable &&
      last.input.judgements === judgements;
    if (last === null || !isSame) last = { input, text, coverage: cover(input) };
    return last.coverage;
  };
}

function takenBy(arrangement: Arrangement, files: readonly KnownFile[]): ReadonlyMap<FrameId, TakenWith> {
  const metadata = new Map(files.map((file) => [file.fileId, file.metadata]));
  return takenWith(arrangement, (file) => metadata.get(file));
}

/** The spots said last, by themselves or with the circuit; before that, those of `meeting.json`. */
export function spotsOf<S extends { readonly id: string }>(
  log: FoldedLog,
  ofMeeting: readonly S[],
): readonly (S | Spot)[] {
  const last = log.inForce.findLast(({ decision }) => decision.kind === 'spots' || decision.kind === 'circuit');
  if (last?.decision.kind === 'spots') return last.decision.spots;
  if (last?.decision.kind !== 'circuit') return ofMeeting;
  return last.decision.circuit.spots.map(({ id, number, name }) => ({ id, number, name }));
}

/** The last timetable, as it runs after the slips said since. To arranging it is a prior: the frames say when a session was. */
export const timetableOf = (log: FoldedLog): Timetable | null => inForceOf(log)?.timetable ?? null;

/** The last timetable as it was said, with what each slip since did to it. */
export const inForceOf = (log: FoldedLog): ReturnType<typeof timetableInForce> =>
  timetableInForce(log.inForce.flatMap(({ decision }) => (isOfTimetable(decision) ? [decision] : [])));

const isOfTimetable = (decision: Decision): decision is Decision & SaidOfTimetable =>
  decision.kind === 'timetable' || decision.kind === 'slip';

/** A class that is no group of the timetable tells nothing: its number is looked for in every group. */
function toCover(entry: EntryLine, timetable: Timetable | null): Entry {
  const group = timetable?.groups.find(
    ({ key, name }) => plain(entry.class) === plain(key) || plain(entry.class) === plain(name),
  );
  return { number: entry.number, words: entryWords(entry), ...(group ? { class: group.key } : {}) };
}

/** Null where no list was said. */
export const entriesOf = (log: FoldedLog): readonly EntryLine[] | null => lastSaid(log, 'entries')?.entries ?? null;

/** The very same answer while it would be equal: arranging takes another object for another timetable. */
function holding<T>(work: (log: FoldedLog) => T): (log: FoldedLog) => T {
  let held: { readonly text: string; readonly answer: T } | null = null;
  return (log) => {
    const answer = work(log);
    const text = JSON.stringify(answer);
    if (held?.text !== text) held = { text, answer };
    return held.answer;
  };
}

/** What was learnt last; empty: to be learnt. */
export const calibrationOf = (log: FoldedLog): Readonly<Record<string, number>> =>
  lastSaid(log, 'calibration')?.calibration ?? {};

function lastSaid<Kind extends DecisionKind>(
  log: FoldedLog,
  kind: Kind,
): Extract<Decision, { kind: Kind }> | undefined {
  const said = log.inForce.findLast(({ decision }) => decision.kind === kind);
  return said?.decision as Extract<Decision, { kind: Kind }> | undefined;
}

/** A day of which nothing is known yet. */
export const nothingDerived: Derived = {
  arrangement: { clocks: [], exposures: [], sessions: [], passes: [], riders: [], questions: [], saidBikes: [] },
  coverage: { rules: { thinBelowGoodFrames: 2 }, riders: [], thin: [], neverSeen: null, emptyStands: [] },
  keepers: {
    rules: { mostPerRider: 0, mostPerSpot: 0, mostInAll: null, leastPerRider: 0 },
    byRider: new Map(),
    leftOut: [],
  },
};
