/**
 * A folder that other programs work in too: it remembers of every file it laid there what it was made of, and touches
 * none that is not as it left it.
 */
import { createHash, randomUUID } from 'node:crypto';
import { constants, copyFile, mkdir, open, readFile, rename, rm, stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { removeUnfinished, UNFINISHED, writeAtomically } from '../atomically.js';
import { FinishError } from '../finishError.js';

export interface Piece {
  /** Inside the folder, `/` between parts. */
  readonly path: string;
  readonly content: { readonly copyOf: string } | { readonly text: string };
}

export type Laid = 'written' | 'already-there' | 'left-alone';

/** What was laid, by path: of what, and the size and time it had then. */
type Remembered = Record<string, { readonly of: string; readonly bytes: number; readonly modified: number }>;

const RECORD = '.tyrewall-out.json';

export class OutFolder {
  readonly #folder: string;
  readonly #laid: Remembered;

  private constructor(folder: string, laid: Remembered) {
    this.#folder = folder;
    this.#laid = laid;
  }

  static async open(folder: string): Promise<OutFolder> {
    await mkdir(folder, { recursive: true });
    await removeUnfinished(folder);
    // Without a record whatever lies there counts as somebody's, which loses nothing.
    const laid = await readFile(join(folder, RECORD), 'utf8').then(
      (text) => JSON.parse(text) as Remembered,
      () => ({}),
    );
    return new OutFolder(folder, laid);
  }

  /** Whole or not at all. */
  async lay(piece: Piece): Promise<Laid> {
    const target = join(this.#folder, ...piece.path.split('/'));
    const of = await markOf(piece);
    const before = this.#laid[piece.path];
    const there = await stat(target).catch(() => null);
    if (there && (before?.bytes !== there.size || before.modified !== there.mtimeMs)) return 'left-alone';
    if (there && before?.of === of) return 'already-there';
    await write(piece, target);
    const { size, mtimeMs } = await stat(target);
    this.#laid[piece.path] = { of, bytes: size, modified: mtimeMs };
    return 'written';
  }

  async remember(): Promise<void> {
    await writeAtomically(join(this.#folder, RECORD), JSON.stringify(this.#laid));
  }
}

/** Changes when the content does: of a file its size and time, for what is copied is never written to in place. */
async function markOf({ content }: Piece): Promise<string> {
  if ('text' in content) return createHash('sha256').update(content.text).digest('hex').slice(0, 16);
  const { size, mtimeMs } = await stat(content.copyOf);
  return `${size} ${mtimeMs}`;
}

async function write({ content }: Piece, target: string): Promise<void> {
  try {
    await mkdir(dirname(target), { recursive: true });
    if ('text' in content) await writeAtomically(target, content.text);
    else await copyAtomically(content.copyOf, target);
  } catch (error) {
    const sentence = `Expected to write ${target}, but ${(error as Error).message}. Make room there, or see that the disk can be written to, and say the same again; what is there stays.`;
    throw new FinishError(sentence, target, error);
  }
}

/** Where the file system can share a file's blocks until one of two is written to, it does. */
async function copyAtomically(from: string, target: string): Promise<void> {
  const temporary = join(dirname(target), `${UNFINISHED}${randomUUID()}`);
  try {
    await copyFile(from, temporary, constants.COPYFILE_FICLONE);
    const file = await open(temporary, 'r+');
    await file.sync().finally(() => file.close());
    await rename(temporary, target);
  } catch (error) {
    await rm(temporary, { force: true });
    throw error;
  }
}
