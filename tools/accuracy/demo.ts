/** What the program makes of the invented meeting, against its truth: cards in, measured, arranged, as a photographer would. */
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { DemoTruth, TrueFrame } from '../../demo/truthTypes.js';
import { layOutDemoMeeting } from '../../src/cli/demoMeeting.js';
import {
  type ArrangementScore,
  type ArrangementTruth,
  scoreArrangement,
  type TrueExposure,
} from '../../src/core/arrange/score.js';
import type { BodyKey, FrameId } from '../../src/core/ids.js';
import { areNeighbours } from '../../src/core/measure/index.js';
import type { ColourName } from '../../src/core/measure/types.js';
import { wallMsOf } from '../../src/core/units.js';
import type { DayState } from '../../src/host/day/index.js';
import type { Figures } from '../figures.js';
import { demoCoverage } from './demoCoverage.js';

interface Accuracy {
  readonly rows: readonly string[];
  readonly figures: Figures;
}

/** Brings the four cards in, then scores. Leaves nothing behind. */
export async function demoAccuracy(): Promise<Accuracy> {
  const folder = await mkdtemp(join(tmpdir(), 'tyrewall-accuracy-'));
  try {
    const { whole, truth, cards } = await layOutDemoMeeting(folder);
    try {
      await whole.day.bringIn(cards.map((card) => card.path));
      return accuracyOf(await whole.day.settled(), truth);
    } finally {
      await whole.close();
    }
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

export function accuracyOf(state: DayState, truth: DemoTruth): Accuracy {
  const frameAt = framesByPlace(state);
  const known = truth.frames.flatMap((frame) => {
    const frameId = frameAt.get(`${frame.card}/${frame.path}`);
    return frameId === undefined ? [] : [{ frame, frameId }];
  });
  const score = scoreArrangement(state.arrangement, plainTruth(truth, known), state.pixels);
  const lost = truth.frames.length - known.length + score.framesLost.length;
  const coverage = demoCoverage(state, known);
  return {
    rows: [...rowsOf(state, truth, known, score, lost), coverage.row],
    figures: { ...figuresOf(score, lost), ...coverage.figures },
  };
}

interface Known {
  readonly frame: TrueFrame;
  readonly frameId: FrameId;
}

/** From `card/path on it` to the frame the meeting knows; RAW and JPEG of one exposure are one frame. */
function framesByPlace(state: DayState): ReadonlyMap<string, FrameId> {
  const frameOfFile = new Map(
    state.arrangement.exposures.flatMap((e) => e.files.map((file) => [file, e.frameId] as const)),
  );
  return new Map(
    state.fills.flatMap((fill) =>
      fill.files.flatMap((file) => {
        const frameId = frameOfFile.get(file.fileId);
        // A fill's folder is named after its card, with a piece of the fill's id behind.
        const card = fill.folder.replace(/-[0-9a-f]+$/, '');
        return frameId === undefined ? [] : [[`${card}/${file.path}`, frameId] as const];
      }),
    ),
  );
}

function plainTruth(truth: DemoTruth, known: readonly Known[]): ArrangementTruth {
  return {
    exposures: known.map(
      ({ frame, frameId }): TrueExposure => ({
        frameId,
        wall: wallMsOf(Date.parse(`${frame.wall}Z`)),
        session: frame.role === 'bike' ? frame.session : null,
        bikes: frame.bikes.map(({ box, rider, pass }) => ({ box, rider, pass: `${rider}#${pass}` })),
      }),
    ),
    groupOf: new Map(truth.sessions.map(({ name, group }) => [name, group])),
    clocks: new Map(truth.clocks.map(({ body, fastS }) => [body as BodyKey, -1000 * fastS])),
  };
}

interface Share {
  readonly right: number;
  readonly of: number;
}

const percent = ({ right, of }: Share): string =>
  of === 0 ? 'none to measure' : `${right} of ${of} (${((100 * right) / of).toFixed(1)} %)`;

function bikesFound(state: DayState, known: readonly Known[]): Share {
  const withBikes = known.filter(({ frame }) => frame.bikes.length > 0);
  const found = withBikes.filter(({ frameId }) => {
    const pixels = state.pixels.get(frameId);
    return pixels?.kind === 'measured' && pixels.subjects.some((subject) => subject.what === 'motorcycle');
  });
  return { right: found.length, of: withBikes.length };
}

/** Per frame of one bike: the largest colour of the main subject against the livery's main colour. */
function coloursRight(state: DayState, truth: DemoTruth, known: readonly Known[]): { exact: Share; near: Share } {
  const colourOf = new Map(truth.riders.map((rider) => [rider.key, rider.bikeColour.split(/[ /+]/)[0]]));
  let [exact, near, of] = [0, 0, 0];
  for (const { frame, frameId } of known) {
    const pixels = state.pixels.get(frameId);
    const bike = frame.bikes[0];
    if (frame.bikes.length !== 1 || bike === undefined || pixels?.kind !== 'measured') continue;
    const main = pixels.subjects.find((subject) => subject.isMain)?.bikeColours[0]?.name;
    const meant = colourOf.get(bike.rider) as ColourName;
    if (main === undefined) continue;
    of++;
    if (main === meant) exact++;
    if (main === meant || areNeighbours(main, meant)) near++;
  }
  return { exact: { right: exact, of }, near: { right: near, of } };
}

function rowsOf(
  state: DayState,
  truth: DemoTruth,
  known: readonly Known[],
  score: ArrangementScore,
  lost: number,
): readonly string[] {
  const { sessions, passes, riders } = score;
  const colours = coloursRight(state, truth, known);
  const clusters = (name: string, value: typeof riders) =>
    value === null
      ? `${name}: none`
      : `${name} by B-cubed: precision ${value.precision.toFixed(3)}, recall ${value.recall.toFixed(3)}, F1 ${value.f1.toFixed(3)}`;
  return [
    `frames: ${truth.frames.length} in truth, ${lost} lost`,
    `session boundaries: ${sessions.trueBoundaries} in truth, ${sessions.missed} missed, ${sessions.invented} invented, ${sessions.wrongGroups} with the wrong group; ${windowDiffWords(score)}`,
    `clock of the second body: ${score.clockErrorS === null ? 'not known' : `${score.clockErrorS.toFixed(1)} s off at most`}`,
    `frames with a bike found: ${percent(bikesFound(state, known))}`,
    `main colour right: ${percent(colours.exact)}; right or neighbouring: ${percent(colours.near)}`,
    clusters('passes', passes),
    clusters('riders', riders),
    `riders: ${score.trueRiders} in truth, ${score.foundRiders} found, ${score.ridersMissed.length} missed entirely${score.ridersMissed.length > 0 ? ` (${score.ridersMissed.join(', ')})` : ''}`,
  ];
}

const windowDiffWords = ({ sessions: { windowDiff } }: ArrangementScore): string =>
  windowDiff === null
    ? 'WindowDiff not measured'
    : `WindowDiff ${windowDiff.value.toFixed(4)} (Pevzner–Hearst, k ${windowDiff.k})`;

function figuresOf(score: ArrangementScore, lost: number): Figures {
  const { windowDiff, wrongBoundaries } = score.sessions;
  return {
    'demo.sessions.wrongBoundaries': {
      value: wrongBoundaries,
      unit: 'boundaries',
      better: 'lower',
      note: 'missed and invented',
    },
    ...(windowDiff === null
      ? {}
      : {
          'demo.sessions.windowDiff': {
            value: windowDiff.value,
            unit: 'share of windows',
            better: 'lower' as const,
            note: `Pevzner–Hearst form (N−k windows), k ${windowDiff.k}`,
          },
        }),
    ...(score.clockErrorS === null
      ? {}
      : {
          'demo.clock.offsetErrorS': {
            value: score.clockErrorS,
            unit: 's',
            better: 'lower' as const,
            note: 'worst body',
          },
        }),
    ...(score.riders === null
      ? {}
      : {
          'demo.riders.bcubedF1': {
            value: score.riders.f1,
            unit: 'F1',
            better: 'higher' as const,
            note: 'over bike-frames',
          },
        }),
    'demo.riders.missed': { value: score.ridersMissed.length, unit: 'riders', better: 'lower' },
    'demo.frames.lost': { value: lost, unit: 'frames', better: 'lower' },
  };
}
