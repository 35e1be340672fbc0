/**
 * `npx tsx bench/finish/memory.ts [frames]`: the memory of two finishing children over 2,000 proofs of 24-megapixel
 * originals. Flat: the last quarter's greatest is within a tenth of the first quarter's (its first hundred apart).
 */
import { mkdir, mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { planProof } from '../../src/core/finish/index.js';
import type { FrameId } from '../../src/core/ids.js';
import { startFinisher } from '../../src/host/finish/finisher.js';
import { makeFrames } from '../measure/frames.js';
import { WORDS } from './index.js';

const frames = Number(process.argv[2] ?? 2000);
const folder = await mkdtemp(join(tmpdir(), 'tyrewall-bench-memory-'));
const finisher = startFinisher(2);
/** Megabytes: of the children together, and of this process. */
const seen: { readonly children: number; readonly own: number }[] = [];

/** Of all children that ever had a picture in hand: one that was replaced counts as nothing. */
const pids = new Set<number>();

const residentMb = async (pid: number): Promise<number> => {
  const status = await readFile(`/proc/${pid}/status`, 'utf8').catch(() => '');
  return Number(/VmRSS:\s+(\d+)/.exec(status)?.[1] ?? 0) / 1024;
};

try {
  const originals = (await makeFrames(folder)).map(({ path }) => path);
  await mkdir(join(folder, 'out'));
  // Every frame another box: no mark is drawn twice the same.
  const boxOf = (index: number) => [(index % 50) / 100, (index % 37) / 100, 0.2 + (index % 23) / 100, 0.3] as const;
  const queue = Array.from({ length: frames }, (_, index) => index).values();
  const work = async () => {
    for (const index of queue) {
      const to = join(folder, 'out', `${index % 20}.jpg`);
      const plan = planProof(WORDS, { subjectBoxes: [boxOf(index)] });
      const original = originals[index % originals.length]!;
      const outcome = await finisher.run({ frameId: '0'.repeat(32) as FrameId, original, plan, to });
      if (outcome.kind === 'failed') throw new Error(outcome.sentence);
      for (const pid of finisher.busyPids) pids.add(pid);
      const children = await Promise.all([...pids].map(residentMb));
      seen.push({ children: children.reduce((sum, one) => sum + one, 0), own: process.memoryUsage.rss() / 2 ** 20 });
    }
  };
  await Promise.all([work(), work()]);
} finally {
  await finisher.close();
  await rm(folder, { recursive: true, force: true });
}

const quarter = Math.floor(seen.length / 4);
if (quarter < 2) throw new Error(`expected some frames to compare but ${seen.length} were made`);
const greatest = (part: 'children' | 'own', from: number, to: number) =>
  Math.max(...seen.slice(from, to).map((one) => one[part]));
for (const part of ['children', 'own'] as const) {
  const first = greatest(part, Math.min(100, quarter >> 1), quarter);
  const last = greatest(part, seen.length - quarter, seen.length);
  console.log(
    `${part}: greatest of the first quarter ${first.toFixed(0)} MB, of the last ${last.toFixed(0)} MB, over ${frames} frames`,
  );
  if (last > first * 1.1) process.exitCode = 1;
}
