/**
 * Measuring against the sum of its decode and inference calls alone, in one process, in turn frame by frame.
 *
 * Why the reference is fair: it makes the very calls that measuring makes of each frame, on the same inputs, and no
 * others. One decode by the function that measuring decodes with, to the size and colours it measures at; then every
 * call of `Vision` that measuring was heard to make in the warm-up: the search on the halved picture, its second look
 * where there was one, and the description and numbers of each subject that was described or read. What is left is measuring's own work:
 * metadata, frame id, halving, masks, colours, sharpness, scene, light, and the small picture.
 * A stricter reference is measured beside it: the decode and the bare runs of the networks on the numbers they were
 * given, so that cutting out, resizing and reading the answers count as measuring's work too.
 */
import { join } from 'node:path';
import type { FileMetadata } from '../../src/core/measure/types.js';
import { decodeForMeasuring } from '../../src/host/measure/decode.js';
import { createMeasurer, type Measurer } from '../../src/host/measure/measureFile.js';
import type { ChildSettings } from '../../src/host/measure/protocol.js';
import { type Networks, openNetworks, type Vision, visionThrough } from '../../src/host/vision/index.js';
import type { BenchFrame } from './frames.js';

const ROUNDS = 6;

interface Cost {
  readonly wallMs: number;
  /** Of all threads of the process: the small picture is made beside the networks. */
  readonly cpuMs: number;
}

interface MeasuringCosts {
  readonly whole: Cost;
  /** Decode and calls of `Vision`. */
  readonly calls: Cost;
  /** Decode and bare runs of the networks. */
  readonly bare: Cost;
}

type Part = keyof MeasuringCosts;
type Round = readonly MeasuringCosts[];

export interface RatioToCalls extends MeasuringCosts {
  /** Least and largest wall ratio of one round to its calls. */
  readonly spread: readonly [number, number];
}

type Call = () => Promise<unknown>;

interface RememberedFrame extends BenchFrame {
  readonly metadata: FileMetadata;
  readonly calls: readonly Call[];
  readonly bareRuns: readonly Call[];
}

/** Milliseconds a frame. Each frame counts with its least cost over the rounds: what else the machine did is in the others. */
export const ratioToCalls = async (frames: readonly BenchFrame[], folder: string): Promise<RatioToCalls> => {
  const settings = { pictureFolder: join(folder, 'pictures') };
  const networks = await openNetworks();
  const remembered = await rememberCalls(frames, settings, networks);
  const measurer = await createMeasurer(settings, visionThrough(networks));
  const rounds: Round[] = [];
  try {
    while (rounds.length < ROUNDS) rounds.push(await oneRound(remembered, measurer));
  } finally {
    await measurer.close();
  }
  const ratios = rounds.map((round) => leastOf([round], 'whole').wallMs / leastOf([round], 'calls').wallMs);
  return {
    whole: leastOf(rounds, 'whole'),
    calls: leastOf(rounds, 'calls'),
    bare: leastOf(rounds, 'bare'),
    spread: [Math.min(...ratios), Math.max(...ratios)],
  };
};

const leastOf = (rounds: readonly Round[], part: Part): Cost => {
  const frames = rounds[0]?.length ?? 0;
  const mean = (unit: keyof Cost): number => {
    let sum = 0;
    for (let frame = 0; frame < frames; frame += 1) {
      sum += Math.min(...rounds.map((round) => (round[frame] as MeasuringCosts)[part][unit]));
    }
    return sum / frames;
  };
  return { wallMs: mean('wallMs'), cpuMs: mean('cpuMs') };
};

/** Frame by frame, so that all three meet the same machine; who goes first changes, for the first warms the caches. */
const oneRound = async (frames: readonly RememberedFrame[], measurer: Measurer): Promise<Round> => {
  const costs: MeasuringCosts[] = [];
  for (const [index, frame] of frames.entries()) {
    const work: Readonly<Record<Part, Call>> = {
      whole: () => measureOne(frame, measurer),
      calls: () => decodeAnd(frame.calls, frame),
      bare: () => decodeAnd(frame.bareRuns, frame),
    };
    const parts = Object.keys(work) as Part[];
    const cost = {} as Record<Part, Cost>;
    for (let turn = 0; turn < parts.length; turn += 1) {
      const part = parts[((index >> 1) + turn) % parts.length] as Part;
      cost[part] = await costOf(work[part]);
    }
    costs.push(cost);
  }
  return costs;
};

/** Measures every frame, which warms everything up, and listens to what is asked of vision and of the networks. */
const rememberCalls = async (
  frames: readonly BenchFrame[],
  settings: ChildSettings,
  networks: Networks,
): Promise<readonly RememberedFrame[]> => {
  let calls: Call[] = [];
  let bareRuns: Call[] = [];
  const vision = visionThrough(listeningNetworks(networks, (run) => bareRuns.push(run)));
  const bareVision = visionThrough(networks);
  const measurer = await createMeasurer(
    settings,
    listeningVision(vision, bareVision, (call) => calls.push(call)),
  );
  const remembered: RememberedFrame[] = [];
  for (const frame of frames) {
    calls = [];
    bareRuns = [];
    const metadata = await measureOne(frame, measurer);
    if (calls.length === 0 || bareRuns.length < calls.length) throw new Error(`${frame.path} asked nothing of vision`);
    remembered.push({ ...frame, metadata, calls, bareRuns });
  }
  return remembered;
};

const listeningNetworks = (networks: Networks, heard: (run: Call) => void): Networks => ({
  detect: (input) => {
    const kept = input.slice();
    heard(() => networks.detect(kept));
    return networks.detect(input);
  },
  lookAtBike: (input) => {
    const kept = input.slice();
    heard(() => networks.lookAtBike(kept));
    return networks.lookAtBike(input);
  },
  findDigits: (planes, width, height) => {
    const kept = planes.slice();
    heard(() => networks.findDigits(kept, width, height));
    return networks.findDigits(planes, width, height);
  },
  close: () => networks.close(),
});

/** @param again answers when the call is made again */
const listeningVision = (vision: Vision, again: Vision, heard: (call: Call) => void): Vision => ({
  detect: (image) => {
    heard(() => again.detect(image));
    return vision.detect(image);
  },
  lookAtBike: (image, box) => {
    heard(() => again.lookAtBike(image, box));
    return vision.lookAtBike(image, box);
  },
  readNumbers: (image, rect, parts) => {
    heard(() => again.readNumbers(image, rect, parts));
    return vision.readNumbers(image, rect, parts);
  },
  close: () => vision.close(),
});

const measureOne = async ({ path, fileId }: BenchFrame, measurer: Measurer): Promise<FileMetadata> => {
  const answer = await measurer.handle({ kind: 'metadata', path, fileId });
  if (answer.kind !== 'metadata') throw new Error('expected metadata');
  const { metadata } = answer;
  const measured = await measurer.handle({ kind: 'pixels', path, metadata, tier: 'preview' });
  if (measured.kind !== 'pixels' || measured.pixels.kind !== 'measured') throw new Error('expected pixels');
  return metadata;
};

const decodeAnd = async (calls: readonly Call[], { path, metadata }: RememberedFrame): Promise<void> => {
  await decodeForMeasuring(path, metadata);
  for (const call of calls) await call();
};

const costOf = async (work: Call): Promise<Cost> => {
  const cpuBefore = process.cpuUsage();
  const start = performance.now();
  await work();
  const wallMs = performance.now() - start;
  const { user, system } = process.cpuUsage(cpuBefore);
  return { wallMs, cpuMs: (user + system) / 1000 };
};
