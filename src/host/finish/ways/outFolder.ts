/**
 * A folder that other programs work in too: it remembers of every file it laid there what it was made of, and touches
 * none that is not as it left it.
 */
import { createHash, randomUUID } from 'node:crypto';
import { constants, copyFile, mkdir, open, readFile, rename, rm, rmdir, stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import type { FrameId } from '../../../core/ids.js';
import { removeUnfinished, UNFINISHED, writeAtomically } from '../atomically.js';
import { FinishError } from '../finishError.js';

export interface Piece {
  /** Inside the folder, `/` between parts. */
  readonly path: string;
  readonly content: { readonly copyOf: string } | { readonly text: string };
  /** Whose picture or sidecar it is. */
  readonly frame?: FrameId;
}

export type Laid = 'written' | 'already-there' | 'left-alone';

/** Paths in the folder. */
export interface TakenAway {
  readonly gone: readonly string[];
  /** Not as they were laid there: somebody's work, and left. */
  readonly changed: readonly string[];
}

/** What was laid, by path: of what and of which frame, and the size and time it had then. */
type Remembered = Record<
  string,
  { readonly of: string; readonly bytes: number; readonly modified: number; readonly frame?: FrameId }
>;

const RECORD = '.tyrewall-out.json';

export class OutFolder {
  readonly #folder: string;
  readonly #laid: Remembered;
  /** Whether the record on the disk holds all that was laid. */
  #isNoted = true;

  private constructor(folder: string, laid: Remembered) {
    this.#folder = folder;
    this.#laid = laid;
  }

  static async open(folder: string): Promise<OutFolder> {
    await orSay(folder, async () => {
      await mkdir(folder, { recursive: true });
      await removeUnfinished(folder);
    });
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
    // Killed, or met by a full disk, it laid more than it could write down.
    if (there?.isFile() && !before && (await holds(target, piece))) {
      this.#note(piece, { of, bytes: there.size, modified: there.mtimeMs });
      return 'already-there';
    }
    if (there && (before?.bytes !== there.size || before.modified !== there.mtimeMs)) return 'left-alone';
    if (there && before?.of === of) return 'already-there';
    await write(piece, target);
    const { size, mtimeMs } = await stat(target);
    this.#note(piece, { of, bytes: size, modified: mtimeMs });
    return 'written';
  }

  /** What it laid of these frames goes, and a folder that is empty then. `seen` is told of each file before. */
  async takeAway(
    frames: Pick<ReadonlySet<FrameId>, 'has'>,
    seen: (path: string, frame: FrameId) => Promise<void> = () => Promise.resolve(),
  ): Promise<TakenAway> {
    const [gone, changed]: [string[], string[]] = [[], []];
    for (const [path, { frame, bytes, modified }] of Object.entries(this.#laid)) {
      if (frame === undefined || !frames.has(frame)) continue;
      const target = join(this.#folder, ...path.split('/'));
      const there = await stat(target).catch(() => null);
      if (there && (there.size !== bytes || there.mtimeMs !== modified)) {
        changed.push(path);
        continue;
      }
      if (there) await seen(path, frame);
      await orSay(target, () => rm(target, { force: true }));
      await rmdir(dirname(target)).catch(() => undefined);
      if (there) gone.push(path);
      delete this.#laid[path];
      this.#isNoted = false;
    }
    return { gone, changed };
  }

  #note({ path, frame }: Piece, laid: Remembered[string]): void {
    this.#laid[path] = frame === undefined ? laid : { ...laid, frame };
    this.#isNoted = false;
  }

  async remember(): Promise<void> {
    if (this.#isNoted) return;
    const record = join(this.#folder, RECORD);
    await orSay(record, () => writeAtomically(record, JSON.stringify(this.#laid)));
    this.#isNoted = true;
  }
}

/** Changes when the content does: of a file its size and time, for what is copied is never written to in place. */
async function markOf({ content }: Piece): Promise<string> {
  if ('text' in content) return createHash('sha256').update(content.text).digest('hex').slice(0, 16);
  const { size, mtimeMs } = await stat(content.copyOf);
  return `${size} ${mtimeMs}`;
}

const write = ({ content }: Piece, target: string): Promise<void> =>
  orSay(target, async () => {
    await mkdir(dirname(target), { recursive: true });
    if ('text' in content) await writeAtomically(target, content.text);
    else await copyAtomically(content.copyOf, target);
  });

async function orSay(target: string, work: () => Promise<void>): Promise<void> {
  try {
    await work();
  } catch (error) {
    throw new FinishError(
      `Expected to write ${target}, but ${(error as Error).message}. ${adviceFor(error)}`,
      target,
      error,
    );
  }
}

/** No room can be made where a file has a folder's name. */
function adviceFor(error: unknown): string {
  const { code } = error as NodeJS.ErrnoException;
  if (code === 'EEXIST' || code === 'ENOTDIR') return 'A file stands where a folder should be; name another folder.';
  return 'Make room there, or see that the disk can be written to, and say the same again; what is there stays.';
}

async function holds(target: string, { content }: Piece): Promise<boolean> {
  if ('text' in content) return (await readFile(target)).equals(Buffer.from(content.text));
  if ((await stat(target)).size !== (await stat(content.copyOf)).size) return false;
  return (await readFile(target)).equals(await readFile(content.copyOf));
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
