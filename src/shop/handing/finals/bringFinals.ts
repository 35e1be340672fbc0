/**
 * The laptop's side of a service that has no originals: asks what is wanted, makes it, brings it in pieces. Stopped or cut off, the next
 * run goes on from what has arrived. Rule HD16.
 */
import { createHash } from 'node:crypto';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { z } from 'zod';
import { ShopError } from '../../shopError.js';
import type { FinalMaker, FinalWish } from '../types.js';

const PIECE_BYTES = 4 * 1024 * 1024;
/** A laptop's disk holds so many at once; what is brought is removed. */
const MOST_AT_ONCE = 24;

/** Asks the service's admin side, with the key. */
export type AskAdmin = (path: string, init?: { method: string; body?: Uint8Array<ArrayBuffer> }) => Promise<Response>;

export interface BroughtReport {
  readonly brought: number;
  readonly failed: readonly { readonly wish: FinalWish; readonly sentence: string }[];
}

const wantedSchema = z.object({
  wanted: z.array(
    z.object({
      picture: z.string().regex(/^[0-9a-f]{32}$/),
      licence: z.enum(['personal', 'press', 'sponsor']),
      longEdgePx: z.int().positive().nullable(),
    }),
  ),
});
const hereSchema = z.object({ bytes: z.int().min(0) });

export async function bringFinals(
  ask: AskAdmin,
  maker: FinalMaker,
  onProgress: (progress: { done: number; total: number }) => void = () => undefined,
): Promise<BroughtReport> {
  const { wanted } = wantedSchema.parse(await jsonOf(await ask('/api/finals')));
  const failed: { wish: FinalWish; sentence: string }[] = [];
  let brought = 0;
  let done = 0;
  for (const batch of batchesOf(wanted)) {
    const folder = await mkdtemp(join(tmpdir(), 'tyrewall-finals-'));
    try {
      const pictures = batch.map(({ picture }) => picture);
      const made = await maker.make(pictures, batch[0]!, folder, () => undefined);
      for (const wish of batch) {
        const one = made.get(wish.picture);
        done += 1;
        // Of another meeting, whose laptop will bring it.
        if (one === undefined) continue;
        if ('path' in one) {
          await bring(ask, wish, await readFile(one.path));
          brought += 1;
        } else {
          await jsonOf(await ask(`${addressOf(wish)}/none`, { method: 'PUT', body: textBytes(one.sentence) }));
          failed.push({ wish, sentence: one.sentence });
        }
        onProgress({ done, total: wanted.length });
      }
    } finally {
      await rm(folder, { recursive: true, force: true });
    }
  }
  return { brought, failed };
}

/** Of one licence and size each. */
function batchesOf(wanted: readonly FinalWish[]): readonly (readonly FinalWish[])[] {
  const kinds = grouped(wanted, ({ licence, longEdgePx }) => `${licence} ${longEdgePx}`);
  return [...kinds.values()].flatMap((of) =>
    Array.from({ length: Math.ceil(of.length / MOST_AT_ONCE) }, (_, i) =>
      of.slice(i * MOST_AT_ONCE, (i + 1) * MOST_AT_ONCE),
    ),
  );
}

const addressOf = ({ picture, licence, longEdgePx }: FinalWish): string =>
  `/api/finals/${picture}/${licence}/${longEdgePx ?? 'full'}`;

const textBytes = (text: string): Uint8Array<ArrayBuffer> => new Uint8Array(Buffer.from(text));

async function bring(ask: AskAdmin, wish: FinalWish, content: Buffer): Promise<void> {
  const sha256 = createHash('sha256').update(content).digest('hex');
  const address = `${addressOf(wish)}?sha256=${sha256}&of=${content.length}`;
  let { bytes: from } = hereSchema.parse(await jsonOf(await ask(address)));
  // Once at least: all of it may be there from a time before, and wait to be looked at.
  do {
    const body = new Uint8Array(content.subarray(from, from + PIECE_BYTES));
    from = hereSchema.parse(await jsonOf(await ask(`${address}&from=${from}`, { method: 'PUT', body }))).bytes;
  } while (from < content.length);
}

async function jsonOf(answer: Response): Promise<unknown> {
  const text = await answer.text();
  if (answer.ok) return JSON.parse(text);
  throw new ShopError(
    502,
    `Expected the order service to take it, but it answered ${answer.status}: ${text.slice(0, 300)}`,
  );
}

function grouped<One>(all: readonly One[], keyOf: (one: One) => string): ReadonlyMap<string, readonly One[]> {
  const groups = new Map<string, One[]>();
  for (const one of all) groups.set(keyOf(one), [...(groups.get(keyOf(one)) ?? []), one]);
  return groups;
}
