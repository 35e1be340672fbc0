/** Brings in several cards at once to one meeting folder on one or more disks. */
import { randomUUID } from 'node:crypto';
import type { CardProgress, FormatVerdict } from '../../core/bringin/types.js';
import type { FillId } from '../../core/ids.js';
import { bringInCard, type CardReport } from './bringInCard.js';
import { type DeviceFinder, lookAtDestinations } from './destinations.js';
import { type Disk, nodeDisk } from './disk.js';
import { BringInError, meaningOf } from './errors.js';
import { settleUnfinished } from './fillOnDisk.js';
import { keepAwake, type OnMayFallAsleep } from './keepAwake.js';
import { limitTo, sharedRuns } from './limit.js';
import { listCard } from './listCard.js';
import { makeMeter } from './meter.js';
import type { FileCopied, Run } from './run.js';
import { spreadSources } from './sources.js';

export interface BringInOptions {
  /** Roots of cards, or folders. */
  readonly cards: readonly string[];
  /** The same meeting folder on each disk. */
  readonly destinations: readonly string[];
  readonly signal?: AbortSignal;
  readonly onProgress?: (progress: CardProgress) => void;
  /** Told when a file's bytes are under its own name on the first disk that has them, before they are read back. */
  readonly onFileCopied?: (file: FileCopied) => void;
  readonly onMayFallAsleep?: OnMayFallAsleep;
  readonly readLimitBytesPerSecond?: number;
  /** For tests: disks that fail, devices that differ, a clock that stands. */
  readonly disk?: Disk;
  readonly findDevice?: DeviceFinder;
  readonly now?: () => number;
}

export interface BringInReport {
  readonly cards: readonly CardReport[];
  /** Sentences about destinations that could not be used. */
  readonly refused: readonly { readonly folder: string; readonly sentence: string }[];
}

/** Bringing back one folder at a time is quickest on one disk; two keep its queue filled. */
const readBacksAtATime = 2;

/** Never throws for what a photographer may meet; troubles are sentences in the report. */
export async function bringIn(options: BringInOptions): Promise<BringInReport> {
  const disk = options.disk ?? nodeDisk;
  const sources = await spreadSources(options.cards);
  const tell = options.onProgress ?? (() => undefined);
  for (const card of new Set(sources)) makeMeter(card, [], tell).begun();
  const looked = await lookAtDestinations(options.destinations, options.cards, options.findDevice);
  const destinations = looked.flatMap((one) => (one.kind === 'usable' ? [one.destination] : []));
  const refused = looked.flatMap((one) =>
    one.kind === 'refused' ? [{ folder: one.folder, sentence: one.sentence }] : [],
  );
  const awake = keepAwake('Bringing in cards', options.onMayFallAsleep ?? (() => undefined));
  try {
    // A disk that cannot be tidied is told of when a card's turn comes.
    await Promise.all(destinations.map(({ folder }) => settleUnfinished(folder, disk).catch(() => undefined)));
    const run: Run = {
      destinations,
      disk,
      signal: options.signal,
      onProgress: tell,
      onFileCopied: options.onFileCopied ?? (() => undefined),
      readLimitBytesPerSecond: options.readLimitBytesPerSecond,
      syncFolder: sharedRuns(disk.syncFolder),
      readBackLimits: destinations.map(() => limitTo(readBacksAtATime)),
      promised: destinations.map(() => 0),
      now: options.now ?? Date.now,
      newId: randomUUID,
    };
    const groups = await overlappingCards(sources);
    const reports = await Promise.all(groups.map((group) => oneAfterAnother(group, run, refused)));
    const byCard = new Map(reports.flat().map((report) => [report.card, report]));
    const cards = [...new Set(sources)].map((card) => byCard.get(card)!);
    return { cards, refused };
  } finally {
    awake.release();
  }
}

/** Cards that share files (two slots that mirror each other) become one fill, so one waits for the other's manifest. */
async function overlappingCards(cards: readonly string[]): Promise<readonly (readonly string[])[]> {
  const groups: { readonly cards: string[]; readonly keys: Set<string> }[] = [];
  for (const card of new Set(cards)) {
    const listing = await listCard(card).catch(() => ({ files: [] }));
    const keys = listing.files
      .filter((file) => file.bytes > 0)
      .map((file) => `${file.path}\0${file.bytes}\0${file.modified}`);
    const sharing = groups.filter((group) => keys.some((key) => group.keys.has(key)));
    for (const group of sharing) groups.splice(groups.indexOf(group), 1);
    groups.push({
      cards: [...sharing.flatMap((group) => group.cards), card],
      keys: new Set([...sharing.flatMap((group) => [...group.keys]), ...keys]),
    });
  }
  return groups.map((group) => group.cards);
}

async function oneAfterAnother(
  cards: readonly string[],
  run: Run,
  refused: BringInReport['refused'],
): Promise<readonly CardReport[]> {
  const reports: CardReport[] = [];
  for (const card of cards) reports.push(await oneCard(card, run, refused));
  return reports;
}

async function oneCard(card: string, run: Run, refused: BringInReport['refused']): Promise<CardReport> {
  try {
    if (run.destinations.length > 0) return withRefusals(await bringInCard(card, run), refused);
    const sentences = refused.map((one) => one.sentence);
    return nothingDone(card, sentences, run);
  } catch (error) {
    const sentence = `Expected to bring in ${card} but ${meaningOf(error)}. What stands is whole; mend that and bring it in again.`;
    return nothingDone(card, [error instanceof BringInError ? error.message : sentence], run);
  }
}

/** A refused disk is a copy that is missing. */
function withRefusals(report: CardReport, refused: BringInReport['refused']): CardReport {
  if (refused.length === 0 || report.verdict.kind === 'may-be-formatted') return report;
  const missing = [...refused.map((one) => one.sentence), ...report.verdict.missing];
  return { ...report, verdict: { kind: 'keep', sentence: `Keep this card as it is. ${missing[0]}`, missing } };
}

/** Told as progress too, so that whoever only watches learns that the card is in trouble. */
function nothingDone(card: string, sentences: readonly string[], run: Run): CardReport {
  const missing = sentences.length > 0 ? sentences : ['No destination was given. Say where to copy to.'];
  const verdict: FormatVerdict = { kind: 'keep', sentence: `Keep this card as it is. ${missing[0]}`, missing };
  const meter = makeMeter(card, [], run.onProgress);
  for (const sentence of missing) meter.trouble(sentence);
  meter.end('finished', verdict);
  return {
    card,
    fill: '' as FillId,
    folder: '',
    outcomes: [],
    alreadyHere: 0,
    troubles: missing,
    notes: [],
    verdict,
    generations: [],
    state: 'finished',
  };
}
