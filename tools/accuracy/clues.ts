/**
 * What each clue is worth: simulated days arranged again with one of them left out. And what two plain ways of clustering
 * make of the same passes' looks: average linkage, and HDBSCAN where Python's scikit-learn has it, each with the threshold
 * or size that suits the day best, which nobody knows beforehand.
 */
import { hardDay, type Setting, type SyntheticDay, syntheticDay } from '../../demo/simulated-day/index.js';
import { arrange } from '../../src/core/arrange/index.js';
import { APART_CLUES } from '../../src/core/arrange/riders/cannotBeOne.js';
import { PRESENCE_PRICES } from '../../src/core/arrange/riders/presence.js';
import { RIDER_PRICES } from '../../src/core/arrange/riders/riderModel.js';
import type { ArrangeInput, Arrangement } from '../../src/core/arrange/types.js';
import type { FrameId } from '../../src/core/ids.js';
import type { FrameMeasurement, Subject } from '../../src/core/measure/types.js';
import { eyeOf } from './person.js';
import { byAverageLinkage, byHdbscan, type PlainClusters } from './plainClusters.js';
import { placedBikes, scoreRiders } from './ridersScore.js';
import { SEEDS } from './seeds.js';

const SETTINGS: readonly Setting[] = ['s74', 's50'];
const DAYS = SEEDS.reported.slice(0, 2);

interface Without {
  readonly name: string;
  arrange(day: SyntheticDay): Arrangement;
}

const WITHOUT: readonly Without[] = [
  { name: 'all clues', arrange: ({ input }) => arrange(input) },
  {
    name: 'without numbers',
    arrange: ({ input }) => arrange(withSubjects(input, ({ numbers: _, ...subject }) => subject)),
  },
  { name: 'without laps', arrange: ({ input }) => pricedAt(RIDER_PRICES, NO_LAPS, () => arrange(input)) },
  { name: 'without groups', arrange: ({ input }) => arrange(withoutGroups(input)) },
  {
    name: 'without attendance',
    arrange: ({ input }) => pricedAt(PRESENCE_PRICES, { attendance: 0 }, () => arrange(input)),
  },
  {
    name: 'without same frame',
    arrange: ({ input }) => pricedAt(APART_CLUES, { sameFrame: false }, () => arrange(input)),
  },
  { name: 'without looks', arrange: ({ input }) => arrange(withSubjects(input, withoutLooks)) },
];

const NO_LAPS = { mostFromRhythm: 0, mostFromLapLength: 0 };

export function* cluesAccuracy(): Iterable<string> {
  yield `B-cubed F1 (precision, recall) of days ${DAYS.join(', ')}, the mean`;
  for (const setting of SETTINGS) yield* settingRows(setting);
}

function* settingRows(setting: Setting): Iterable<string> {
  const days = DAYS.map((seed) => syntheticDay(hardDay(setting, seed)));
  for (const { name, arrange: arrangeIt } of WITHOUT) {
    const scores = days.map((day) => scoreOf(day, arrangeIt(day)));
    yield `${setting}, ${name}: ${meanWords(scores)}`;
  }
  for (const cluster of [byAverageLinkage, byHdbscan]) yield plainRow(setting, days.map(cluster));
}

function plainRow(setting: Setting, found: readonly PlainClusters[]): string {
  const scored = found.flatMap((one) => (one.kind === 'scored' ? [one] : []));
  const [first] = scored;
  const skipped = found.find(({ kind }) => kind === 'skipped');
  if (first === undefined || skipped?.kind === 'skipped')
    return `SKIPPED: ${skipped?.kind === 'skipped' ? skipped.reason : 'no days'}`;
  const best = scored.map((one) => one.best).join(' and ');
  return `${setting}, ${first.name} on the looks of passes, ${best} (best): ${meanWords(scored.map(({ score }) => score))}`;
}

const scoreOf = (day: SyntheticDay, arrangement: Arrangement) =>
  scoreRiders(placedBikes(arrangement, eyeOf(day))).riders;

interface Score {
  readonly precision: number;
  readonly recall: number;
  readonly f1: number;
}

function meanWords(scores: readonly Score[]): string {
  const mean = (of: (score: Score) => number): string =>
    (scores.reduce((sum, score) => sum + of(score), 0) / scores.length).toFixed(4);
  return `${mean(({ f1 }) => f1)} (${mean(({ precision }) => precision)}, ${mean(({ recall }) => recall)})`;
}

/** The program's prices are constants; this process changes them for as long as one arranging takes. */
function pricedAt<Prices extends object>(
  prices: Prices,
  changes: Readonly<Record<string, number | boolean>>,
  work: () => Arrangement,
) {
  const usual = { ...prices };
  Object.assign(prices, changes);
  try {
    return work();
  } finally {
    Object.assign(prices, usual);
  }
}

function withSubjects(input: ArrangeInput, change: (subject: Subject) => Subject): ArrangeInput {
  const pixels = new Map<FrameId, FrameMeasurement>();
  for (const [frameId, frame] of input.pixels)
    pixels.set(frameId, frame.kind === 'measured' ? { ...frame, subjects: frame.subjects.map(change) } : frame);
  return { ...input, pixels };
}

/** All bikes look the same: one descriptor, no colours. */
const withoutLooks = (subject: Subject): Subject => ({
  ...subject,
  descriptor: Buffer.from(new Int8Array(Buffer.from(subject.descriptor, 'base64').length).fill(9)).toString('base64'),
  bikeColours: [],
  riderColours: [],
});

/** The timetable knows when sessions are, not whose. */
function withoutGroups(input: ArrangeInput): ArrangeInput {
  if (input.timetable === null) return input;
  const slots = input.timetable.slots.map((slot) => ({ ...slot, group: 'A' }));
  return { ...input, timetable: { ...input.timetable, groups: [{ key: 'A', name: 'All' }], slots } };
}
