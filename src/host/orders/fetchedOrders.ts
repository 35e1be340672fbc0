/**
 * Orders as fetched from the service that holds them: `people/orders.json` of the meeting, since there are names and addresses in it. It is a
 * copy, written anew in one go; the service stays the truth. Where a contact was removed there, the next fetch takes it out here. Rule OR36.
 */
import { randomBytes } from 'node:crypto';
import { mkdir, readFile, rename, rm, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { z } from 'zod';
import type { OrderId, PaperNumber, StoredFact } from '../../core/handover/orders/index.js';

export interface FetchedFact extends StoredFact {
  readonly seq: number;
}

export interface FetchedOrders {
  /** The last place in the service's sequence that was seen. */
  readonly cursor: number;
  readonly facts: readonly FetchedFact[];
  readonly papers: readonly PaperNumber[];
}

/** Of facts only what all have: the service checked them when they were told. */
const file = z.object({
  v: z.literal(1),
  cursor: z.int().min(0),
  facts: z.array(
    z.looseObject({
      seq: z.int().positive(),
      order: z.string(),
      key: z.string(),
      at: z.number(),
      by: z.string(),
      fact: z.looseObject({ kind: z.string() }),
    }),
  ),
  papers: z
    .array(
      z.object({ order: z.string(), key: z.string(), kind: z.enum(['invoice', 'credit-note']), number: z.string() }),
    )
    .optional(),
});

export class FetchedOrdersError extends Error {
  readonly path: string;

  constructor(sentence: string, path: string, cause?: unknown) {
    super(sentence, { cause });
    this.name = 'FetchedOrdersError';
    this.path = path;
  }
}

export const fetchedOrdersPath = (meetingFolder: string): string => join(meetingFolder, 'people', 'orders.json');

/** Nothing before anything was fetched. */
export async function readFetchedOrders(meetingFolder: string): Promise<FetchedOrders> {
  const path = fetchedOrdersPath(meetingFolder);
  const text = await readFile(path, 'utf8').catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return null;
    throw new FetchedOrdersError(`The fetched orders could not be read: ${error.message}`, path, error);
  });
  if (text === null) return { cursor: 0, facts: [], papers: [] };
  try {
    const { cursor, facts, papers } = file.parse(JSON.parse(text));
    return {
      // Fetched before papers were: all of it comes once more.
      cursor: papers === undefined ? 0 : cursor,
      facts: facts as unknown as readonly FetchedFact[],
      papers: (papers ?? []) as unknown as readonly PaperNumber[],
    };
  } catch (cause) {
    throw new FetchedOrdersError(
      `Expected the orders fetched from the service in ${path} but it holds something else. Remove it and fetch again: the service has them all.`,
      path,
      cause,
    );
  }
}

/** Page by page, so that what came before the line broke is kept. Returns how many facts are new. */
export async function fetchOrders(
  meetingFolder: string,
  pages: (since: number) => AsyncIterable<Omit<FetchedOrders, 'cursor'> & { readonly next: number }>,
): Promise<number> {
  let kept = await readFetchedOrders(meetingFolder);
  const before = kept.facts.length;
  for await (const { facts, papers, next } of pages(kept.cursor)) {
    const numbers = new Map([...kept.papers, ...papers].map((one) => [one.number, one]));
    kept = { cursor: next, facts: withoutRemoved(merged(kept.facts, facts)), papers: [...numbers.values()] };
    await write(meetingFolder, kept);
  }
  return kept.facts.length - before;
}

function merged(known: readonly FetchedFact[], come: readonly FetchedFact[]): readonly FetchedFact[] {
  const bySeq = new Map([...known, ...come].map((one) => [one.seq, one]));
  return [...bySeq.values()].sort((a, b) => a.seq - b.seq);
}

function withoutRemoved(facts: readonly FetchedFact[]): readonly FetchedFact[] {
  const removed = new Set<OrderId>(
    facts.filter(({ fact }) => fact.kind === 'contact-removed').map(({ order }) => order),
  );
  return facts.map((one) =>
    one.fact.kind === 'placed' && removed.has(one.order)
      ? { ...one, fact: { ...one.fact, contact: { name: '', mail: '', address: null } } }
      : one,
  );
}

async function write(meetingFolder: string, orders: FetchedOrders): Promise<void> {
  const path = fetchedOrdersPath(meetingFolder);
  await mkdir(dirname(path), { recursive: true });
  const temporary = `${path}.${randomBytes(6).toString('hex')}`;
  try {
    await writeFile(temporary, `${JSON.stringify({ v: 1, ...orders })}\n`, { mode: 0o600, flush: true });
    await rename(temporary, path);
  } finally {
    await rm(temporary, { force: true });
  }
}
