/** The invented meeting's pictures, by `card/name.avif`: all in one file, for their containers are alike. */
import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { brotliDecompress } from 'node:zlib';
import { unpackFiles } from '../src/host/vision/packedFiles.js';

export const FRAMES_FILE = fileURLToPath(new URL('frames.br', import.meta.url));
const MADE_AGAIN = 'Restore it from the repository, or make it again: npm run demo:frames';

let kept: Promise<ReadonlyMap<string, Buffer>> | undefined;

/** In the order of their names; read once. */
export const keptFrames = (): Promise<ReadonlyMap<string, Buffer>> => (kept ??= readFrames());

async function readFrames(): Promise<ReadonlyMap<string, Buffer>> {
  try {
    return unpackFiles(await promisify(brotliDecompress)(await readFile(FRAMES_FILE)));
  } catch (cause) {
    throw new Error(
      `Expected the frames of the invented meeting in ${FRAMES_FILE} but it cannot be read (${(cause as Error).message}). ${MADE_AGAIN}`,
      { cause },
    );
  }
}

export async function keptFrame(picture: string): Promise<Buffer> {
  const bytes = (await keptFrames()).get(picture);
  if (bytes === undefined)
    throw new Error(`Expected the frame "${picture}" in ${FRAMES_FILE} but it is not there. ${MADE_AGAIN}`);
  return bytes;
}

export const framesOfCard = async (card: string): Promise<readonly Buffer[]> =>
  [...(await keptFrames())].flatMap(([name, bytes]) => (name.startsWith(`${card}/`) ? [bytes] : []));
