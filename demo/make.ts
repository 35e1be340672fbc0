/**
 * Makes the invented meeting's pictures and says where each rider lies in them: `npx tsx demo/make.ts`.
 * `--check` renders again and compares with what is there, byte for byte: all of it, or `--check 20` frames spread over the day.
 */
import { fork } from 'node:child_process';
import { rename, writeFile } from 'node:fs/promises';
import { availableParallelism } from 'node:os';
import { fileURLToPath } from 'node:url';
import { packFiles } from '../src/host/vision/packedFiles.js';
import { numbered } from './day/files.js';
import { photographTheDay } from './day/photograph.js';
import type { Picture } from './day/picture.js';
import { BOXES_FILE, boxesText, readBoxes, roundedBoxes } from './day/truth.js';
import { FRAMES_FILE, keptFrames } from './frames.js';

const WORKER_FILE = fileURLToPath(new URL('makeWorker.ts', import.meta.url));

/** Renders the exposures with these indices in a few processes, handing each on as it is ready. */
export async function renderAll(
  indices: readonly number[],
  onPicture: (index: number, picture: Picture) => Promise<void>,
): Promise<void> {
  let given = 0;
  const runOne = (): Promise<void> =>
    new Promise((resolve, reject) => {
      const child = fork(WORKER_FILE, { execArgv: ['--import', 'tsx'], serialization: 'advanced' });
      const giveNext = (): void => {
        const index = indices[given++];
        if (index === undefined) child.disconnect();
        else child.send(index);
      };
      child.on('error', reject);
      child.on('exit', (code) =>
        code === 0 ? resolve() : reject(new Error(`A renderer ended with code ${code}; its own message stands above.`)),
      );
      child.on('message', (message) => {
        const { index, avif, boxes } = message as { index: number } & Picture;
        onPicture(index, { avif: Buffer.from(avif), boxes }).then(giveNext, reject);
      });
      giveNext();
    });
  const workers = Math.max(1, Math.min(2, availableParallelism(), indices.length));
  await Promise.all(Array.from({ length: workers }, runOne));
}

async function makeEverything(): Promise<void> {
  const day = numbered(photographTheDay());
  const boxes: Picture['boxes'][] = [];
  const pictures = new Map<string, Buffer>();
  const startedMs = performance.now();
  await renderAll([...day.keys()], async (index, picture) => {
    pictures.set(day[index]!.picture, picture.avif);
    boxes[index] = picture.boxes;
    if (pictures.size % 20 === 0) console.log(`${pictures.size} of ${day.length} frames`);
  });
  // Pictures and boxes change together, and only when all is made.
  const packed = packFiles(new Map([...pictures].sort(([a], [b]) => (a < b ? -1 : 1))));
  await writeFile(`${FRAMES_FILE}.part`, packed);
  await rename(`${FRAMES_FILE}.part`, FRAMES_FILE);
  await writeFile(BOXES_FILE, boxesText(boxes));
  const seconds = (performance.now() - startedMs) / 1000;
  console.log(`${day.length} frames, ${(packed.length / 1e6).toFixed(2)} MB, in ${seconds.toFixed(0)} s`);
}

/** Paths of frames whose bytes or boxes are not what they were, empty when all are. */
export async function changedFrames(count: number): Promise<string[]> {
  const day = numbered(photographTheDay());
  const step = Math.max(1, Math.floor(day.length / count));
  const indices = [...day.keys()].filter((i) => i % step === 0);
  const changed: string[] = [];
  const kept = await readBoxes();
  await renderAll(indices, async (index, { avif, boxes }) => {
    const picture = (await keptFrames()).get(day[index]!.picture);
    const areBoxesKept = JSON.stringify(roundedBoxes(boxes)) === JSON.stringify(kept.boxes[index]);
    if (!picture?.equals(avif) || !areBoxesKept) changed.push(day[index]!.picture);
  });
  console.log(`${indices.length} frames rendered again, ${changed.length} differ`);
  return changed;
}

async function main(args: readonly string[]): Promise<void> {
  if (args[0] !== '--check') return makeEverything();
  const changed = await changedFrames(args[1] === undefined ? Number.POSITIVE_INFINITY : Number(args[1]));
  for (const path of changed) console.error(`${path} is not what the code makes now`);
  process.exitCode = changed.length === 0 ? 0 : 1;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) await main(process.argv.slice(2));
