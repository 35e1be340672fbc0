/**
 * Renders an enlarged meeting into a folder of the machine's cache, on several processes; what is there from the same
 * renderer is taken as it is. Nothing of it belongs into the project.
 */
import { type ChildProcess, fork } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, readFileSync } from 'node:fs';
import { mkdir, readdir, readFile, rename, rm, writeFile } from 'node:fs/promises';
import { availableParallelism, homedir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Box } from '../../src/core/measure/types.js';
import { type LargeMeeting, largeMeeting } from './day.js';

const HERE = dirname(fileURLToPath(import.meta.url));

export interface LargeRender {
  readonly meeting: LargeMeeting;
  /** Picture of the shot at that place in the list. */
  pictureOf(at: number): string;
  /** Per shot and bike what is seen of it, null where it is outside the picture. */
  readonly boxes: readonly (readonly (Box | null)[])[];
  readonly wasThere: boolean;
}

/** The XDG base directory specification's cache folder. */
const cacheRoot = (): string => join(process.env.XDG_CACHE_HOME || join(homedir(), '.cache'), 'tyrewall');

export async function renderLarge(seed: number, onProgress: (done: number, of: number) => void): Promise<LargeRender> {
  const meeting = largeMeeting(seed);
  const folder = join(cacheRoot(), `large-${seed}-${await rendererHash()}`);
  const wasThere = existsSync(join(folder, 'boxes.json'));
  if (!wasThere) await renderInto(folder, meeting, onProgress);
  const boxes = JSON.parse(readFileSync(join(folder, 'boxes.json'), 'utf8')) as LargeRender['boxes'];
  return { meeting, boxes, wasThere, pictureOf: (at) => join(folder, pictureName(at)) };
}

const pictureName = (at: number): string => `${String(at).padStart(4, '0')}.jpg`;

/** Of the sources beside the renderer's those that say who is photographed when, and how. */
const DAY_SOURCES = [
  ...['trackDay', 'photographs', 'options'].map((name) => `../simulated-day/${name}.ts`),
  ...['day', 'renderer', 'riders', 'shots', 'spots'].map((name) => `${name}.ts`),
];

/** Pictures of another renderer are others: the sources they come from name the folder. */
async function rendererHash(): Promise<string> {
  const renderer = (await readdir(join(HERE, '../render'))).filter((name) => /^[a-z]+\.ts$/i.test(name));
  const hash = createHash('sha256');
  for (const source of [...renderer.map((name) => `../render/${name}`), ...DAY_SOURCES].sort())
    hash.update(await readFile(join(HERE, source)));
  return hash.digest('hex').slice(0, 12);
}

interface Rendered {
  readonly at: number;
  readonly jpeg: Uint8Array;
  readonly boxes: readonly (Box | null)[];
}

/** The folder appears whole or not at all. */
async function renderInto(
  folder: string,
  { seed, shots }: LargeMeeting,
  onProgress: (done: number, of: number) => void,
) {
  const unfinished = `${folder}.part-${process.pid}`;
  await mkdir(unfinished, { recursive: true });
  const boxes: (readonly (Box | null)[])[] = [];
  let given = 0;
  let done = 0;
  const take = async ({ at, jpeg, boxes: own }: Rendered): Promise<void> => {
    await writeFile(join(unfinished, pictureName(at)), jpeg);
    boxes[at] = own;
    onProgress(++done, shots.length);
  };
  const next = (): number | null => (given < shots.length ? given++ : null);
  try {
    await Promise.all(Array.from({ length: Math.min(2, availableParallelism()) }, () => runRenderer(seed, next, take)));
    await writeFile(join(unfinished, 'boxes.json'), JSON.stringify(boxes));
    // Another run may have rendered the same day meanwhile; its pictures are these.
    if (!existsSync(folder)) await rename(unfinished, folder);
  } finally {
    await rm(unfinished, { recursive: true, force: true });
  }
}

/** One process at its work until there is no more. */
function runRenderer(seed: number, next: () => number | null, take: (one: Rendered) => Promise<void>): Promise<void> {
  return new Promise((resolve, reject) => {
    const child: ChildProcess = fork(join(HERE, 'renderer.ts'), [String(seed)], {
      execArgv: ['--import', 'tsx'],
      serialization: 'advanced',
    });
    const giveNext = (): void => {
      const at = next();
      if (at === null) child.disconnect();
      else child.send(at);
    };
    child.on('error', reject);
    child.on('exit', (code) =>
      code === 0 ? resolve() : reject(new Error(`A renderer ended with code ${code}; its own message stands above.`)),
    );
    child.on('message', (message) => {
      take(message as Rendered).then(giveNext, reject);
    });
    giveNext();
  });
}
