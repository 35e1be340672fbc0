/** Brings in one card: list, plan, copy and read back as one pipeline, seal the manifests, look at the card again. */
import { readdir } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { kindOfCard } from '../../core/bringin/dcf.js';
import { formatVerdict } from '../../core/bringin/formatVerdict.js';
import { fillFolderName } from '../../core/bringin/names.js';
import { planCopy } from '../../core/bringin/planCopy.js';
import { recogniseFill, sameFileAs } from '../../core/bringin/recogniseFill.js';
import type {
  CardListing,
  CopyPlan,
  CopyStep,
  FileOutcome,
  Fill,
  FillFile,
  FormatVerdict,
} from '../../core/bringin/types.js';
import type { FileId, FillId } from '../../core/ids.js';
import { type EpochMs, epochMsOf } from '../../core/units.js';
import { type CopyMeans, copyFile, type TargetOutcome } from './copyFile.js';
import { roomTrouble } from './destinations.js';
import { meaningOf } from './errors.js';
import { FillCopies, lacks } from './fillCopies.js';
import { readHeld } from './fillOnDisk.js';
import { limitTo } from './limit.js';
import { listCard } from './listCard.js';
import { type CardMeter, makeMeter } from './meter.js';
import type { Run } from './run.js';
import { type OwnHistory, readOwnHistory } from './sources.js';
import { throttleTo } from './throttle.js';

export interface CardReport {
  readonly card: string;
  readonly fill: FillId;
  readonly folder: string;
  readonly outcomes: readonly FileOutcome[];
  /** Files that stood on every destination before this run. */
  readonly alreadyHere: number;
  readonly troubles: readonly string[];
  /** Worth saying, though nothing is wrong. */
  readonly notes: readonly string[];
  readonly verdict: FormatVerdict;
  /** Generation each destination's history now has, in the order of the destinations; 0 where there is none. */
  readonly generations: readonly number[];
  readonly state: 'finished' | 'stopped';
}

const filesInFlight = 3;
/** A file still being written is tried again when the card is listed anew; a card may grow for so many rounds. */
const roundsAtMost = 3;

export async function bringInCard(card: string, run: Run): Promise<CardReport> {
  const meter = makeMeter(
    card,
    run.destinations.map((destination) => destination.folder),
    run.onProgress,
  );
  const work = new CardWork(card, run, meter);
  await work.bringIn();
  return work.report();
}

class CardWork {
  readonly #card: string;
  readonly #run: Run;
  readonly #meter: CardMeter;
  readonly #outcomes = new Map<string, FileOutcome>();
  #fresh: { readonly id: FillId; readonly folder: string };
  #own: OwnHistory | null = null;
  /** Times as the source has them, where its history knows better ones. */
  readonly #seenModified = new Map<string, EpochMs>();
  readonly #copies: FillCopies;
  readonly #throttle: CopyMeans['throttle'];
  #plan: CopyPlan | null = null;
  #alreadyHere = 0;
  #verdict: FormatVerdict = { kind: 'keep', sentence: 'Keep this card as it is. Nothing was copied.', missing: [] };
  #isStopped = false;
  /** Said once, when the card was taken out while it was read. */
  #gone: string | null = null;

  constructor(card: string, run: Run, meter: CardMeter) {
    this.#card = card;
    this.#run = run;
    this.#meter = meter;
    const id = run.newId() as FillId;
    this.#fresh = { id, folder: fillFolderName(basename(card), id) };
    this.#throttle = throttleTo(run.readLimitBytesPerSecond);
    this.#copies = new FillCopies(run, meter, this.#outcomes);
  }

  async bringIn(): Promise<void> {
    await this.#readOwnHistory();
    let listing = await this.#list();
    this.#sayWhatIsOdd(listing);
    for (let round = 1; round <= roundsAtMost && listing.files.length > 0; round++) {
      await this.#bringInListing(listing, round);
      if (this.#isStopped || this.#gone !== null) break;
      const later = await this.#list().catch(() => null);
      if (later === null) {
        this.#sayGone();
        break;
      }
      const isSettled = this.#holdsEverything(later) || !hasGrown(listing, later);
      listing = later;
      if (isSettled) break;
    }
    this.#verdict = await this.#judge();
  }

  #sayGone(): void {
    this.#gone = `The card ${this.#card} can no longer be listed; it was taken out, or its reader failed. Put it back and bring it in again: what is copied is whole, and it goes on where it was.`;
    this.#meter.trouble(this.#gone);
  }

  /** A card that was taken out leaves nothing, or the empty folder it was mounted on. */
  async #isGone(): Promise<boolean> {
    return (await readdir(this.#card).catch(() => [])).length === 0;
  }

  async #readOwnHistory(): Promise<void> {
    this.#own = await readOwnHistory(this.#card);
    if (this.#own === null) return;
    const { id } = this.#own.fill;
    const name = basename(this.#card);
    this.#fresh = { id, folder: name.endsWith(`-${id.slice(0, 8)}`) ? name : fillFolderName(name, id) };
    for (const trouble of this.#own.history.troubles) this.#meter.trouble(trouble);
  }

  /** The card as it is now; a file whose history knows its time keeps that one, for disks round times. */
  async #list(): Promise<CardListing> {
    const listing = await listCard(this.#card);
    const said = new Map((this.#own?.fill.files ?? []).map((file) => [file.path, file]));
    const files = listing.files.map((file) => {
      const known = said.get(file.path);
      if (known === undefined || known.bytes !== file.bytes) return file;
      this.#seenModified.set(file.path, file.modified);
      return { ...file, modified: known.modified };
    });
    return { ...listing, files };
  }

  #sayWhatIsOdd(listing: CardListing): void {
    const kind = kindOfCard(listing.files.map((file) => file.path));
    if (kind === 'empty')
      this.#meter.trouble(
        `Expected pictures on ${this.#card} but there is no file on it. Check that it is the right card.`,
      );
    if (kind === 'no-dcim')
      this.#meter.note(
        `There is no DCIM folder with pictures on ${this.#card}, so it is brought in as a plain folder.`,
      );
    if (kind === 'clips-only')
      this.#meter.note(`There are clips but no pictures on ${this.#card}; they are brought in all the same.`);
  }

  async #bringInListing(listing: CardListing, round: number): Promise<void> {
    const held = await Promise.all(
      this.#run.destinations.map((destination) => readHeld(destination.folder, this.#run.disk)),
    );
    const plan = planCopy(
      listing,
      held,
      this.#plan === null ? this.#fresh : { id: this.#plan.fill, folder: this.#plan.folder },
    );
    this.#plan = plan;
    if (round === 1) this.#sayWhatIsGone(held, plan);
    if (round === 1) this.#alreadyHere = plan.steps.filter((step) => step.kind === 'already-here').length;
    this.#meter.planned(plan);
    const taking = await this.#takeRoom(plan);
    try {
      await this.#copies.open(plan);
      await this.#copyAll(plan);
    } finally {
      taking.forEach((bytes, index) => {
        this.#run.promised[index]! -= bytes;
      });
      await this.#copies.seal(plan, this.#own);
    }
  }

  #sayWhatIsGone(held: readonly (readonly Fill[])[], plan: CopyPlan): void {
    held.forEach((fills, index) => {
      const gone = fills.find((fill) => fill.id === plan.fill)?.gone?.size ?? 0;
      if (gone === 0) return;
      const files = gone === 1 ? 'One file that was' : `${gone} files that were`;
      this.#meter.note(
        `${files} copied to ${this.#run.destinations[index]!.folder} before ${gone === 1 ? 'is' : 'are'} no longer there; what the card still has of them is copied again.`,
      );
    });
  }

  /** Checks room before anything starts, counting what other cards were promised. A disk without room is left out. */
  async #takeRoom(plan: CopyPlan): Promise<readonly number[]> {
    const taking = this.#run.destinations.map((_, index) => plan.bytesOnto?.[index] ?? 0);
    for (const [index, destination] of this.#run.destinations.entries()) {
      const files = plan.steps.filter((step) => lacks(step, index)).length;
      const trouble = await roomTrouble(destination.folder, taking[index]! + this.#run.promised[index]!, files);
      if (trouble !== null) this.#copies.lose(index, trouble);
      this.#run.promised[index]! += taking[index]!;
    }
    return taking;
  }

  async #copyAll(plan: CopyPlan): Promise<void> {
    const inFlight = limitTo(filesInFlight);
    const readingBack = new Set<Promise<void>>();
    const copying = plan.steps.map((step) =>
      inFlight(async () => {
        if (this.#run.signal?.aborted) return;
        if (step.kind === 'already-here') return this.#copies.proveAgain(step);
        const after = await this.#copyStep(step, plan);
        if (after === null) return;
        const task = after().finally(() => readingBack.delete(task));
        readingBack.add(task);
        if (readingBack.size > 2 * filesInFlight) await Promise.race(readingBack);
      }),
    );
    await Promise.all(copying);
    await Promise.all(readingBack);
    this.#isStopped = this.#run.signal?.aborted ?? false;
  }

  /** Reads and writes one file. Resolves with what is left to do for it, reading back, or null when nothing is. */
  async #copyStep(
    step: Exclude<CopyStep, { kind: 'already-here' }>,
    plan: CopyPlan,
  ): Promise<(() => Promise<void>) | null> {
    const targets = this.#copies.targetsFor(step);
    if (targets.size === 0 || this.#gone !== null) return null;
    const seenModified = this.#seenModified.get(step.file.path);
    const source = join(this.#card, step.file.path);
    const job = {
      source,
      file: step.file,
      to: step.to,
      targets,
      ...(seenModified === undefined ? {} : { seenModified }),
    };
    const outcome = await copyFile(job, this.#means()).catch((error: unknown) => {
      if (this.#run.signal?.aborted) return null;
      throw error;
    });
    if (outcome === null || this.#gone !== null) return null;
    if (outcome.kind !== 'read' && (await this.#isGone())) {
      this.#sayGone();
      return null;
    }
    if (outcome.kind !== 'read') {
      this.#meter.trouble(outcome.sentence);
      this.#outcomes.set(step.file.path, { kind: 'unreadable', path: step.file.path, sentence: outcome.sentence });
      return null;
    }
    this.#meter.fileRead();
    const file: FillFile = {
      path: step.to,
      bytes: step.file.bytes,
      modified: step.file.modified,
      fileId: outcome.fileId,
    };
    if (await this.#isNotAsVouched(step, outcome.fileId, outcome.targets)) return null;
    const standing = await this.#copies.giveNames(file, outcome.targets, plan);
    return () => this.#copies.proveCopies(step, file, standing);
  }

  /** Another copy, or the source's own manifest, says what this file must be; if it is not, it gets no name here. */
  async #isNotAsVouched(
    step: Exclude<CopyStep, { kind: 'already-here' }>,
    received: FileId,
    targets: ReadonlyMap<number, TargetOutcome>,
  ): Promise<boolean> {
    const { path } = step.file;
    const said = this.#own?.fill.files.find((file) => file.path === path)?.fileId;
    const expected = (step.kind === 'copy' ? step.expected : undefined) ?? said;
    if (expected === undefined || expected === received) return false;
    for (const target of targets.values()) if (target.kind === 'written') await this.#run.disk.remove(target.part);
    const sentence = `Expected ${expected} for ${path} but ${this.#card} now gives ${received}: it is damaged there. It was not copied; mend it from the good copy.`;
    this.#meter.trouble(sentence);
    this.#outcomes.set(path, { kind: 'mismatch', path, expected, received, sentence });
    return true;
  }

  #means(): CopyMeans {
    return {
      disk: this.#run.disk,
      throttle: this.#throttle,
      signal: this.#run.signal,
      onRead: (bytes) => this.#meter.read(bytes),
      onWritten: (index, bytes) => this.#meter.written(index, bytes),
    };
  }

  #holdsEverything(listing: CardListing): boolean {
    const shift = this.#shift(listing);
    const finders = this.#copies.copies().map((copy) => sameFileAs(copy.files, shift, listing.files));
    return listing.files.every((file) => finders.every((find) => find(file) !== undefined));
  }

  #shift(listing: CardListing): number {
    const { fill, folder } = this.#plan!;
    const asFills = this.#copies
      .copies()
      .map(({ files }) => [{ id: fill, folder, firstBroughtIn: epochMsOf(0), files, generations: 0 }]);
    return recogniseFill(listing.files, asFills)?.shiftMs ?? 0;
  }

  /** The card is listed once more, now that everything is read back: only that listing counts. */
  async #judge(): Promise<FormatVerdict> {
    if (this.#isStopped) {
      const missing = [
        'It was stopped before everything was copied. Bring the card in again; it goes on where it was.',
      ];
      return { kind: 'keep', sentence: `Keep this card as it is. ${missing[0]}`, missing };
    }
    if (this.#gone !== null)
      return { kind: 'keep', sentence: `Keep this card as it is. ${this.#gone}`, missing: [this.#gone] };
    try {
      const listing = await this.#list();
      const shift = this.#plan === null ? 0 : this.#shift(listing);
      return formatVerdict(listing, this.#copies.copies(), shift, [...this.#copies.lostBecause(), ...this.#notACard()]);
    } catch (error) {
      const missing = [`The card could not be listed again: ${meaningOf(error)}`];
      return { kind: 'keep', sentence: `Keep this card as it is. ${missing[0]}`, missing };
    }
  }

  #notACard(): readonly string[] {
    return this.#own === null
      ? []
      : [`${this.#card} is a copy with a history of its own, not a card; leave it where it is.`];
  }

  report(): CardReport {
    const state = this.#isStopped ? ('stopped' as const) : ('finished' as const);
    this.#meter.end(state, this.#verdict);
    return {
      card: this.#card,
      fill: this.#plan?.fill ?? this.#fresh.id,
      folder: this.#plan?.folder ?? this.#fresh.folder,
      outcomes: [...this.#outcomes.values()],
      alreadyHere: this.#alreadyHere,
      troubles: this.#meter.troubles(),
      notes: this.#meter.notes(),
      verdict: this.#verdict,
      generations: this.#copies.generations(),
      state,
    };
  }
}

/** True when the card lists anything it did not list before: then there is more to bring in. */
function hasGrown(before: CardListing, after: CardListing): boolean {
  const known = new Set(before.files.map((file) => `${file.path}\0${file.bytes}\0${file.modified}`));
  return after.files.some((file) => !known.has(`${file.path}\0${file.bytes}\0${file.modified}`));
}
