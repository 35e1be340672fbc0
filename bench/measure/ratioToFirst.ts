/**
 * Decoding and measuring a frame, today against the first version (`bench/first`), in one process, in turn frame by frame.
 * What is the same in both, metadata and the small picture, is left out: it would only make the ratio look smaller.
 */
import type { FrameId } from '../../src/core/ids.js';
import { decodeForMeasuring } from '../../src/host/measure/decode.js';
import { readMetadata } from '../../src/host/metadata/index.js';
import { measureImage, openNetworks, type Vision, visionThrough } from '../../src/host/vision/index.js';
import { measureAsFirst } from '../first/index.js';
import type { BenchFrame } from './frames.js';

const ROUNDS = 6;
const FACTS = { frameId: '0'.repeat(32) as FrameId, source: 'shrink-on-load', tier: 'preview' } as const;

export interface RatioToFirst {
  /** Milliseconds a frame. */
  readonly today: number;
  readonly withoutNumbers: number;
  readonly first: number;
}

type Way = keyof RatioToFirst;

/** Each frame counts with its least cost over the rounds: what else the machine did is in the others. */
export async function ratioToFirst(frames: readonly BenchFrame[]): Promise<RatioToFirst> {
  const networks = await openNetworks();
  const vision = visionThrough(networks);
  const unread: Vision = { ...vision, readNumbers: async () => [] };
  const least = frames.map(() => ({
    today: Number.POSITIVE_INFINITY,
    withoutNumbers: Number.POSITIVE_INFINITY,
    first: Number.POSITIVE_INFINITY,
  }));
  try {
    for (let round = 0; round < ROUNDS; round += 1) {
      for (const [index, { path, fileId }] of frames.entries()) {
        const metadata = await readMetadata(path, fileId);
        const decoded = async () => (await decodeForMeasuring(path, metadata)).image;
        const work: Readonly<Record<Way, () => Promise<unknown>>> = {
          today: async () => measureImage(vision, await decoded(), FACTS),
          withoutNumbers: async () => measureImage(unread, await decoded(), FACTS),
          first: async () => measureAsFirst(networks, await decoded()),
        };
        for (const way of Object.keys(work) as Way[]) {
          const from = performance.now();
          await work[way]();
          least[index]![way] = Math.min(least[index]![way], performance.now() - from);
        }
      }
    }
  } finally {
    await vision.close();
  }
  const mean = (way: Way) => least.reduce((sum, costs) => sum + costs[way], 0) / least.length;
  return { today: mean('today'), withoutNumbers: mean('withoutNumbers'), first: mean('first') };
}
