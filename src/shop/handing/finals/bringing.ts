/**
 * Finals that are brought by the laptop, in pieces: over a van's line a picture of thirty megabytes is not begun anew because the signal
 * went. A piece goes on where the last one ended; whole and with the checksum that was said, it is a final. Rule HD16.
 */
import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { appendFile, mkdir, open, readdir, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import type { RemovedThing } from '../../../core/handover/law/index.js';
import type { PublicId } from '../../../core/handover/types.js';
import { ShopError } from '../../shopError.js';
import type { FinalWish } from '../types.js';
import type { Finals } from './finals.js';

/** Larger than any camera's picture. */
export const MOST_FINAL_BYTES = 300_000_000;

export interface Piece {
  readonly from: number;
  /** Of the whole. */
  readonly of: number;
  readonly sha256: string;
  readonly bytes: Uint8Array;
}

/** As `#pathOf` makes it. */
const NAME = /^([0-9a-f]{32})-([a-z]+)-(full|[0-9]+)-/;

export class Bringing {
  readonly #folder: string;
  readonly #finals: Finals;
  /** One piece after the other. */
  #before: Promise<unknown> = Promise.resolve();

  constructor(dataFolder: string, finals: Finals) {
    this.#folder = join(dataFolder, 'bringing');
    this.#finals = finals;
  }

  /** What was whole and a final already when the program was killed. Anything else is gone on with. */
  async removeLeftOver(): Promise<void> {
    for (const name of await readdir(this.#folder).catch(() => [])) {
      const [, picture, licence, edge] = NAME.exec(name) ?? [];
      if (picture === undefined) continue;
      const longEdgePx = edge === 'full' ? null : Number(edge);
      const wish = { picture, licence: licence as FinalWish['licence'], longEdgePx };
      if (await this.#finals.stands(wish)) await rm(join(this.#folder, name), { force: true });
    }
  }

  /** How much of it is here; nothing where it was never begun. */
  async bytesOf(wish: FinalWish, sha256: string): Promise<number> {
    return (await stat(this.#pathOf(wish, sha256)).catch(() => null))?.size ?? 0;
  }

  /** How much is here with it. */
  add(wish: FinalWish, piece: Piece): Promise<{ readonly bytes: number; readonly isWhole: boolean }> {
    const added = this.#before.then(() => this.#add(wish, piece));
    this.#before = added.catch(() => undefined);
    return added;
  }

  async #add(wish: FinalWish, { from, of, sha256, bytes }: Piece) {
    const path = this.#pathOf(wish, sha256);
    await mkdir(this.#folder, { recursive: true, mode: 0o700 });
    const here = await this.bytesOf(wish, sha256);
    if (from !== here || here + bytes.length > of)
      throw new ShopError(
        409,
        `Expected a piece that goes on at byte ${here} of ${of} but got ${bytes.length} bytes from ${from}. Ask how much is here, and go on from there.`,
      );
    await appendFile(path, bytes, { mode: 0o600 });
    if (here + bytes.length < of) return { bytes: here + bytes.length, isWhole: false };
    try {
      await checkWhole(path, of, sha256);
      await this.#finals.bring(wish, path);
    } finally {
      await rm(path, { force: true });
    }
    return { bytes: of, isWhole: true };
  }

  /** Pieces of what was taken down; says what lay here. */
  async forget(pictures: ReadonlySet<PublicId>): Promise<readonly RemovedThing[]> {
    const names = (await readdir(this.#folder).catch(() => [])).filter((name) => pictures.has(name.slice(0, 32)));
    const removed: RemovedThing[] = [];
    for (const name of names) {
      const path = join(this.#folder, name);
      const bytes = (await stat(path).catch(() => null))?.size ?? 0;
      await rm(path, { force: true });
      removed.push({ what: `half brought: ${name}`, sha256: null, bytes });
    }
    return removed;
  }

  #pathOf({ picture, licence, longEdgePx }: FinalWish, sha256: string): string {
    return join(this.#folder, `${picture}-${licence}-${longEdgePx ?? 'full'}-${sha256.slice(0, 16)}`);
  }
}

async function checkWhole(path: string, bytes: number, sha256: string): Promise<void> {
  const hash = createHash('sha256');
  for await (const piece of createReadStream(path) as AsyncIterable<Buffer>) hash.update(piece);
  const found = hash.digest('hex');
  if (found !== sha256)
    throw new ShopError(
      422,
      `Expected ${bytes} bytes with the SHA-256 ${sha256} but they have ${found}. They were removed; bring the picture again.`,
    );
  const file = await open(path, 'r');
  try {
    const { buffer: ends } = await file.read(Buffer.alloc(4), 0, 2, 0);
    await file.read(ends, 2, 2, bytes - 2);
    // Start and end of image (ITU-T T.81, B.1.1.3).
    if (ends.toString('hex') === 'ffd8ffd9') return;
  } finally {
    await file.close();
  }
  throw new ShopError(
    422,
    'Expected a whole JPEG but got something else. It was removed; bring the final as it was made.',
  );
}
