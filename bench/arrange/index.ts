/**
 * How long arranging takes on simulated days (seeded; `demo/simulated-day`): from nothing; with the logged calibration and
 * what the last arranging left, when a word about a session's group sends the program over clocks, sessions and passes
 * again; and from one answer to all that follows: arrangement, coverage and keepers, with what the resident worker
 * remembers. Warm: one smaller day first. The minimum of the runs counts, the spread is printed.
 */

import { foldedOf, ORDINARY_DAY, syntheticDay } from '../../demo/simulated-day/index.js';
import { arrange, arrangeAgain } from '../../src/core/arrange/index.js';
import type { ArrangeInput } from '../../src/core/arrange/types.js';
import type { Decision } from '../../src/core/log/types.js';
import type { Timetable } from '../../src/core/plan/types.js';
import { wallMsOf } from '../../src/core/units.js';
import { type KnownDay, rememberingDerive } from '../../src/host/day/derive.js';
import type { Figures } from '../../tools/figures.js';

const RUNS = 3;

/** Days of about so many frames: more riders and more sessions. */
const SIZES = [
  { frames: 7_500, ridersAGroup: 40, rounds: 7, attention: 0.5 },
  { frames: 15_000, ridersAGroup: 50, rounds: 11, attention: 0.6 },
  { frames: 30_000, ridersAGroup: 60, rounds: 18, attention: 0.6 },
] as const;

export async function benchArrange(): Promise<Figures> {
  arrange(syntheticDay({ seed: 3 }).input);
  const rows = SIZES.map(measureSize);
  const [small, , large] = rows as [Row, Row, Row];
  for (const [i, row] of rows.entries()) {
    const before = rows[i - 1];
    const growth =
      before === undefined ? '' : `, grows as frames^${exponent(before, row).toFixed(2)} from the size before`;
    console.log(
      `arrange ${row.frames} frames (${row.riders} riders): ${row.ms.toFixed(0)} ms at best, ${row.worstMs.toFixed(0)} at worst of ${RUNS}; ` +
        `again with what was kept ${row.cachedMs.toFixed(0)} ms; answer to one decision ${row.answerMs.toFixed(0)} ms${growth}`,
    );
  }
  return {
    'arrange.ms7500': { value: small.ms * (7_500 / small.frames), unit: 'ms', better: 'lower', note: noteOf(small) },
    'arrange.ms30000': { value: large.ms * (30_000 / large.frames), unit: 'ms', better: 'lower', note: noteOf(large) },
    'arrange.msCached7500': { value: small.cachedMs, unit: 'ms', better: 'lower', note: CACHED_NOTE },
    'arrange.msCached30000': { value: large.cachedMs, unit: 'ms', better: 'lower', note: CACHED_NOTE },
    'arrange.msAfterOneAnswer': { value: small.answerMs, unit: 'ms', better: 'lower', note: ANSWER_NOTE },
    'arrange.answerMs7500': { value: small.answerMs, unit: 'ms', better: 'lower', note: ANSWER_NOTE },
  };
}

const ANSWER_NOTE = 'from one same-rider answer to arrangement, coverage and keepers';

const CACHED_NOTE =
  'with the logged calibration and the merges of before: a word about a session that changes no rider, clocks to passes worked out anew';

interface Row {
  readonly frames: number;
  readonly riders: number;
  readonly ms: number;
  readonly worstMs: number;
  readonly cachedMs: number;
  readonly answerMs: number;
}

const noteOf = ({ frames, ms }: Row): string =>
  `${frames} simulated frames in ${ms.toFixed(0)} ms, 192-value descriptors, scaled in proportion`;

const exponent = (a: Row, b: Row): number => Math.log(b.ms / a.ms) / Math.log(b.frames / a.frames);

function measureSize({ ridersAGroup, rounds, attention }: (typeof SIZES)[number]): Row {
  const { input, riders, timetable } = syntheticDay({
    seed: 11,
    rounds,
    lunchAfterRound: Math.ceil(rounds / 2),
    attention,
    groups: ORDINARY_DAY.groups.map((group) => ({ ...group, riders: ridersAGroup })),
  });
  const times = Array.from({ length: RUNS }, () => timed(() => arrange(input)));
  return {
    frames: input.files.length,
    riders: riders.length,
    ms: Math.min(...times),
    worstMs: Math.max(...times),
    cachedMs: cachedTime(input),
    answerMs: answerTime({ ...input, spots: SPOTS }, timetable),
  };
}

/** Each run from the memory of the day before the word was said. */
function cachedTime(input: ArrangeInput): number {
  const { arrangement, memory } = arrangeAgain(input, null);
  const { start, group } = arrangement.sessions[1]!;
  const word: Decision = { kind: 'session-is', at: wallMsOf(start + 60_000), group: group! };
  const after = { ...input, calibration: arrangement.calibration!, log: foldedOf([word]) };
  return Math.min(...Array.from({ length: RUNS }, () => timed(() => arrangeAgain(after, memory))));
}

const SPOTS = [{ id: 'hairpin' }, { id: 'crest' }, { id: 'chicane' }];

/** The two riders with most passes are said to be one; each run from the memory of the day before that answer. */
function answerTime(known: Omit<KnownDay, 'log'>, timetable: Timetable): number {
  const printed: Decision = { kind: 'timetable', timetable };
  const before = { ...known, log: foldedOf([printed]) };
  const derived = rememberingDerive()(before, null);
  const [a, b] = [...derived.arrangement.riders].sort((x, y) => y.passes.length - x.passes.length);
  const points = [a!, b!].map(({ face }) => {
    const exposure = derived.arrangement.exposures.find(({ frameId }) => frameId === face.frameId)!;
    const frame = known.pixels.get(face.frameId);
    if (frame?.kind !== 'measured') throw new Error('Expected a measured face in a simulated day.');
    const [left, top, width, height] = frame.subjects[face.subject]!.box;
    return { file: exposure.mainFile, x: left + width / 2, y: top + height / 2 };
  });
  const after = { ...known, log: foldedOf([printed, { kind: 'same-rider', points }]) };
  const resident = rememberingDerive();
  resident(before, null);
  return Math.min(...Array.from({ length: RUNS }, () => timed(() => resident(after, null))));
}

function timed(work: () => unknown): number {
  const start = performance.now();
  work();
  return performance.now() - start;
}
