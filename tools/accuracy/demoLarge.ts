/**
 * What the program makes of enlarged rendered meetings: real pixels, measured as a card's pictures are, arranged, and asked
 * about. Rendered once and kept in the machine's cache; two days in the mean.
 */
import { mkdtemp, rm } from 'node:fs/promises';
import { availableParallelism, tmpdir } from 'node:os';
import { join } from 'node:path';
import { type LargeRender, renderLarge } from '../../demo/large/make.js';
import { foldedOf } from '../../demo/simulated-day/index.js';
import { arrange } from '../../src/core/arrange/index.js';
import { type ArrangementTruth, scoreArrangement, type TrueExposure } from '../../src/core/arrange/score.js';
import type { ArrangeInput, KnownFile } from '../../src/core/arrange/types.js';
import type { FrameId } from '../../src/core/ids.js';
import type { Box, FrameMeasurement } from '../../src/core/measure/types.js';
import { wallMsOf } from '../../src/core/units.js';
import { createMeasurePool } from '../../src/host/measure/index.js';
import type { Figures } from '../figures.js';
import { type Answered, answerScreens, type Eye } from './person.js';
import { placedBikes, type RidersScore, scoreRiders, scoreWords } from './ridersScore.js';
import { SEEDS } from './seeds.js';

interface LargeAccuracy {
  readonly rows: readonly string[];
  readonly figures: Figures;
}

interface DayResult {
  readonly seed: number;
  readonly frames: number;
  readonly found: string;
  readonly score: RidersScore;
  readonly missed: readonly string[];
  readonly answered: Answered;
  readonly after: RidersScore;
}

export async function demoLargeAccuracy(): Promise<LargeAccuracy> {
  const results: DayResult[] = [];
  for (const seed of SEEDS.rendered) results.push(await measureDay(seed));
  const rows = results.flatMap((result) => {
    const seconds = result.answered.asked.reduce((sum, one) => sum + one.seconds, 0);
    return [
      `day ${result.seed}: ${result.frames} frames, ${result.found}; ${scoreWords(result.score)}`,
      `  after ${result.answered.asked.length} screens (${seconds.toFixed(0)} s of a person): ${scoreWords(result.after)}`,
    ];
  });
  return { rows, figures: figuresOf(results) };
}

/** Progress goes where it does not mix with the figures. */
const sayProgress = (done: number, of: number): void => {
  if (done % 100 === 0 || done === of) console.error(`  ${done} of ${of} pictures rendered`);
};

/** A rendered day as it was measured, with its truth. */
export interface LargeMeasured {
  readonly input: ArrangeInput;
  readonly truth: ArrangementTruth;
  readonly eye: Eye;
  /** How long it took, for a reader. */
  readonly took: string;
}

export async function largeDay(seed: number): Promise<LargeMeasured> {
  const started = performance.now();
  const render = await renderLarge(seed, sayProgress);
  const rendered = performance.now();
  const files = render.meeting.shots.map(({ file }) => asRendered(file));
  const pixels = await measureAll(render, files);
  const took = `${render.wasThere ? 'rendered before' : `rendered in ${seconds(rendered - started)}`}, measured in ${seconds(performance.now() - rendered)}`;
  const { timetable } = render.meeting.photographed;
  const input: ArrangeInput = { files, pixels, log: foldedOf([]), zone: 'Europe/London', timetable, calibration: {} };
  const truth = truthOf(render);
  return { input, truth, eye: eyeOf(truth, pixels), took };
}

async function measureDay(seed: number): Promise<DayResult> {
  const { input, truth, eye, took } = await largeDay(seed);
  const arrangement = arrange(input);
  const answered = answerScreens(input, eye, seed);
  const bikes = placedBikes(arrangement, eye);
  const inTruth = truth.exposures.reduce((sum, exposure) => sum + exposure.bikes.length, 0);
  return {
    seed,
    frames: input.files.length,
    found: `${took}; ${bikes.length} of ${inTruth} bikes seen`,
    score: scoreRiders(bikes),
    missed: scoreArrangement(arrangement, truth, input.pixels).ridersMissed,
    answered,
    after: scoreRiders(placedBikes(answered.arrangement, eye)),
  };
}

const seconds = (ms: number): string => `${(ms / 1000).toFixed(0)} s`;

const asRendered = (file: KnownFile): KnownFile => ({
  ...file,
  metadata: { ...file.metadata, widthPx: 600, heightPx: 400 },
});

const TIME_LIMIT_MS = 60_000;

async function measureAll(render: LargeRender, files: readonly KnownFile[]) {
  const pictureFolder = await mkdtemp(join(tmpdir(), 'tyrewall-large-'));
  const pool = createMeasurePool({
    workers: Math.min(2, availableParallelism()),
    pictureFolder,
    timeLimitMs: TIME_LIMIT_MS,
  });
  try {
    const answers = await Promise.all(
      files.map(({ metadata }, at) =>
        pool.measure({ kind: 'pixels', path: render.pictureOf(at), metadata, tier: 'preview' }),
      ),
    );
    return new Map(answers.flatMap((one) => (one.kind === 'pixels' ? [[one.frameId, one.pixels] as const] : [])));
  } finally {
    await pool.close();
    await rm(pictureFolder, { recursive: true, force: true });
  }
}

function truthOf({ meeting, boxes }: LargeRender): ArrangementTruth {
  const { riders, sessions } = meeting.photographed;
  return {
    exposures: meeting.shots.map(
      ({ file, shot }, at): TrueExposure => ({
        frameId: file.metadata.frameId,
        wall: wallMsOf(shot.wall),
        session: shot.isDivider ? null : (sessions[shot.session]?.name ?? null),
        bikes: shot.bikes.flatMap(({ rider, pass }, i) => {
          const box = boxes[at]?.[i] ?? null;
          return box === null ? [] : [{ box, rider: riders[rider]!.key, pass: `${pass}/${shot.body}` }];
        }),
      }),
    ),
    groupOf: new Map(sessions.map(({ name, group }) => [name, group])),
    clocks: new Map(),
  };
}

/** A bike of the truth counts as seen where a box overlaps it this much (intersection over union). */
const LEAST_OVERLAP = 0.3;

function eyeOf({ exposures }: ArrangementTruth, pixels: ReadonlyMap<FrameId, FrameMeasurement>): Eye {
  const bikes = new Map(exposures.map(({ frameId, bikes: own }) => [frameId, own]));
  return {
    riderOf: ({ frameId, subject }) => {
      const frame = pixels.get(frameId);
      const box = frame?.kind === 'measured' ? frame.subjects[subject]?.box : undefined;
      if (box === undefined) return null;
      const own = (bikes.get(frameId) ?? []).map((bike) => ({ bike, overlap: overlapOf(box, bike.box) }));
      const best = own.sort((a, b) => b.overlap - a.overlap)[0];
      return best === undefined || best.overlap < LEAST_OVERLAP ? null : best.bike.rider;
    },
  };
}

function overlapOf(a: Box, b: Box): number {
  const across = Math.min(a[0] + a[2], b[0] + b[2]) - Math.max(a[0], b[0]);
  const down = Math.min(a[1] + a[3], b[1] + b[3]) - Math.max(a[1], b[1]);
  if (across <= 0 || down <= 0) return 0;
  return (across * down) / (a[2] * a[3] + b[2] * b[3] - across * down);
}

function figuresOf(days: readonly DayResult[]): Figures {
  const note = `mean of ${days.length} rendered days of 65 riders at five spots, seeds ${SEEDS.rendered.join(', ')}`;
  const mean = (of: (day: DayResult) => number) => days.reduce((sum, day) => sum + of(day), 0) / days.length;
  const screens = Math.max(...days.map(({ answered }) => answered.asked.length));
  return {
    'demoLarge.riders.bcubedF1': { value: mean(({ score }) => score.riders.f1), unit: 'F1', better: 'higher', note },
    'demoLarge.riders.missed': {
      value: days.reduce((sum, { missed }) => sum + missed.length, 0),
      unit: 'riders',
      better: 'lower',
      note: `${days.length} days together`,
    },
    'demoLarge.riders.afterQuestions': {
      value: mean(({ after }) => after.riders.f1),
      unit: 'F1',
      better: 'higher',
      note: `after ${screens} screens at most; ${note}`,
    },
  };
}
