/** The networks as they lie in `models/`: compressed (Brotli, RFC 7932), opened in memory. */
import { existsSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { brotliDecompress } from 'node:zlib';
import { VisionError } from './VisionError.js';

export interface ModelFile {
  readonly name: string;
  /** What to do where the repository's is lost. */
  readonly madeAgain: string;
}

const decompress = promisify(brotliDecompress);

export async function readModel(file: ModelFile): Promise<Buffer> {
  const compressed = await readFile(pathOf(file));
  return decompress(compressed).catch((cause: unknown) => {
    throw noModel(file, cause);
  });
}

export const noModel = (file: ModelFile, cause: unknown): VisionError => {
  const path = pathOf(file);
  return new VisionError(
    `Expected ${path} to hold what can be opened as a model, but it does not. Restore it from the repository, or ${file.madeAgain}`,
    { path, cause },
  );
};

/** In the nearest `models/` folder at or above this module, so that sources and a built copy find the same file. */
function pathOf({ name, madeAgain }: ModelFile): string {
  const here = dirname(fileURLToPath(import.meta.url));
  for (let folder = here; folder !== dirname(folder); folder = dirname(folder)) {
    const path = join(folder, 'models', name);
    if (existsSync(path)) return path;
  }
  throw new VisionError(
    `Expected the model models/${name} above ${here} but it is not there. Restore it from the repository, or ${madeAgain}`,
  );
}
