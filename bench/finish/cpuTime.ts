/** CPU time a picture takes, made alone in this process: what a rate becomes when every core is busy and nobody waits. */
import sharp from 'sharp';
import type { PicturePlan } from '../../src/core/finish/index.js';
import type { FrameId } from '../../src/core/ids.js';
import { makePicture } from '../../src/host/finish/makePicture.js';

const ROUNDS = 3;

/** Milliseconds of all threads, the least of some rounds over all originals. */
export async function cpuTimes<Way extends string>(
  originals: readonly string[],
  ways: Readonly<Record<Way, (original: string) => Promise<unknown>>>,
): Promise<Record<Way, number>> {
  sharp.concurrency(1);
  sharp.cache(false);
  const names = Object.keys(ways) as Way[];
  const least = Object.fromEntries(names.map((name) => [name, Number.POSITIVE_INFINITY])) as Record<Way, number>;
  for (let turn = 0; turn < (ROUNDS + 1) * names.length; turn += 1) {
    const name = names[turn % names.length]!;
    const before = process.cpuUsage();
    for (const original of originals) await ways[name](original);
    const { user, system } = process.cpuUsage(before);
    // The first round warms up.
    if (turn >= names.length) least[name] = Math.min(least[name], (user + system) / 1000 / originals.length);
  }
  return least;
}

export const makeHere = (plan: PicturePlan, to: string) => async (original: string) => {
  const outcome = await makePicture({ frameId: '0'.repeat(32) as FrameId, original, plan, to });
  if (outcome.kind === 'failed') throw new Error(outcome.sentence);
};
