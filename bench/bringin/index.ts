/**
 * Bringing in with two verified copies, against what a careful person does by hand: copy to both disks, flush, then
 * read both copies back past the page cache and hash them, one step after another. Same bytes, same process, in turn.
 */
import { execFile } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { bringIn } from '../../src/host/bringin/index.js';
import type { Figures } from '../../tools/figures.js';
import { copySlowly, forgetCached, makeCard, readBackAll } from './card.js';

const run = promisify(execFile);
/** 1.0 GB in files of the size a sports camera writes. */
const fileCount = 125;
const fileBytes = 8_000_000;
const rounds = 3;
const cardBytesPerSecond = 90e6;

export async function benchBringIn(): Promise<Figures> {
  const scratch = await mkdtemp(join(tmpdir(), 'tyrewall-bench-bringin-'));
  try {
    const card = await makeCard(join(scratch, 'card'), fileCount, fileBytes);
    const fast = await compare(scratch, card, undefined);
    const slow = await compare(scratch, card, cardBytesPerSecond);
    return {
      'bringin.ratioToCopyAndHash': {
        value: fast.ratio,
        unit: 'x',
        better: 'lower',
        note: `${fast.note}; by hand: cp to both, sync, hash both past the page cache`,
      },
      'bringin.ratioAt90MBs': {
        value: slow.ratio,
        unit: 'x',
        better: 'lower',
        note: `${slow.note}; by hand the card is read once, the second copy made from the first while it is still in memory`,
      },
    };
  } finally {
    await rm(scratch, { recursive: true, force: true });
  }
}

interface Comparison {
  readonly ratio: number;
  readonly note: string;
}

async function compare(scratch: string, card: string, limit: number | undefined): Promise<Comparison> {
  const ours: number[] = [];
  const byHand: number[] = [];
  for (let round = 0; round < rounds; round++) {
    // Whoever goes first in one round goes second in the next.
    const turns = [() => time(scratch, card, ours, (a, b) => bringInBoth(card, a, b, limit))];
    turns[round % 2 === 0 ? 'push' : 'unshift'](() =>
      time(scratch, card, byHand, (a, b) => copyByHand(card, a, b, limit)),
    );
    for (const turn of turns) await turn();
  }
  const note = `median of ${rounds}; ours ${listed(ours)} s, by hand ${listed(byHand)} s for ${((fileCount * fileBytes) / 1e9).toFixed(1)} GB`;
  return { ratio: median(ours) / median(byHand), note };
}

async function time(
  scratch: string,
  card: string,
  into: number[],
  work: (a: string, b: string) => Promise<void>,
): Promise<void> {
  const [a, b] = [join(scratch, 'a'), join(scratch, 'b')];
  await forgetCached(card);
  const started = performance.now();
  await work(a, b);
  into.push((performance.now() - started) / 1000);
  await Promise.all([a, b].map((folder) => rm(folder, { recursive: true, force: true })));
  await run('sync');
}

async function bringInBoth(card: string, a: string, b: string, limit: number | undefined): Promise<void> {
  const report = await bringIn({
    cards: [card],
    destinations: [a, b],
    ...(limit === undefined ? {} : { readLimitBytesPerSecond: limit }),
  });
  const verified = report.cards[0]!.outcomes.filter((outcome) => outcome.kind === 'verified' && outcome.copies === 2);
  if (verified.length !== fileCount)
    throw new Error(`Expected ${fileCount} files verified twice but got ${verified.length}.`);
}

async function copyByHand(card: string, a: string, b: string, limit: number | undefined): Promise<void> {
  if (limit === undefined) {
    await run('cp', ['-r', card, a]);
    await run('cp', ['-r', card, b]);
  } else {
    await copySlowly(card, a, limit);
    await run('cp', ['-r', a, b]);
  }
  await run('sync');
  const hashed = (await readBackAll(a)) + (await readBackAll(b));
  if (hashed !== 2 * fileCount) throw new Error(`Expected to hash ${2 * fileCount} files but hashed ${hashed}.`);
}

const median = (values: readonly number[]): number => [...values].sort((x, y) => x - y)[Math.floor(values.length / 2)]!;
const listed = (values: readonly number[]): string => values.map((value) => value.toFixed(1)).join(' ');
