/** The copies of one fill on all destinations: names given, read back, proven, and said in manifests. */
import { dirname, join } from 'node:path';
import type { Copy } from '../../core/bringin/formatVerdict.js';
import type { CopyPlan, CopyStep, FileOutcome, FillFile } from '../../core/bringin/types.js';
import { epochMsOf } from '../../core/units.js';
import type { TargetOutcome } from './copyFile.js';
import { isDiskTrouble, meaningOf } from './errors.js';
import { carryHistory, type FillOnDisk, openFill, sealFill, withNote } from './fillOnDisk.js';
import { isFromEarlierStart, noteWithStart } from './machineStart.js';
import type { CardMeter } from './meter.js';
import { readBack } from './readBack.js';
import type { Run } from './run.js';
import type { OwnHistory } from './sources.js';

/** FAT and exFAT keep times to two seconds. */
const TIME_TOLERANCE_MS = 2_000;

type Proof =
  | { readonly kind: 'verified' }
  | { readonly kind: 'unproven'; readonly why: string }
  | {
      readonly kind: 'mismatch';
      readonly found: { readonly expected: string; readonly received: string; readonly sentence: string };
    };

export class FillCopies {
  readonly #run: Run;
  readonly #meter: CardMeter;
  readonly #outcomes: Map<string, FileOutcome>;
  /** Destinations that can take no more in this run, with the reason. */
  readonly #lost = new Map<number, string>();
  #fills: ReadonlyMap<number, FillOnDisk> = new Map();

  constructor(run: Run, meter: CardMeter, outcomes: Map<string, FileOutcome>) {
    this.#run = run;
    this.#meter = meter;
    this.#outcomes = outcomes;
  }

  /** Opens the fill on every destination; one that cannot is lost for this run. */
  async open(plan: CopyPlan): Promise<void> {
    const fills = new Map<number, FillOnDisk>();
    for (const [index, { folder }] of this.#run.destinations.entries()) {
      try {
        fills.set(index, await openFill(folder, plan.folder, plan.fill, this.#run.disk));
      } catch (error) {
        this.lose(
          index,
          `Expected to make ${plan.folder} on ${folder} but ${meaningOf(error)}. Mend that and bring the card in again.`,
        );
      }
    }
    this.#fills = fills;
  }

  /** Fill folders that lack a step's file and can take it, by destination. */
  targetsFor(step: CopyStep): ReadonlyMap<number, string> {
    const taking = [...this.#fills].filter(([index]) => lacks(step, index) && !this.#lost.has(index));
    return new Map(taking.map(([index, fill]) => [index, fill.folder]));
  }

  lostBecause(): readonly string[] {
    return [...this.#lost.values()];
  }

  lose(index: number, sentence: string): void {
    if (this.#lost.has(index)) return;
    this.#lost.set(index, sentence);
    this.#meter.trouble(sentence);
  }

  /** Journals each whole copy, gives it its own name and flushes the folder. Resolves with the destinations that have one. */
  async giveNames(
    file: FillFile,
    targets: ReadonlyMap<number, TargetOutcome>,
    plan: CopyPlan,
  ): Promise<ReadonlyMap<number, TargetOutcome>> {
    const standing = new Map<number, TargetOutcome>();
    let isTold = false;
    const named = [...targets].map(async ([index, target]) => {
      try {
        if (target.kind === 'failed') throw target.error;
        if (target.kind === 'written') {
          await this.#fills.get(index)!.journal.append({ kind: 'written', file });
          await this.#run.disk.rename(target.part, target.final);
          await this.#run.syncFolder(dirname(target.final));
        }
        standing.set(index, target);
        if (!isTold && target.kind === 'written') {
          isTold = true;
          this.#tell(file, target.final, plan);
        }
      } catch (error) {
        this.#destinationFailed(index, file.path, error);
      }
    });
    await Promise.all(named);
    return standing;
  }

  #tell(file: FillFile, absolutePath: string, plan: CopyPlan): void {
    const { path, fileId, bytes, modified } = file;
    this.#run.onFileCopied({ fill: plan.fill, folder: plan.folder, path, absolutePath, fileId, bytes, modified });
  }

  #destinationFailed(index: number, path: string, error: unknown): void {
    const disk = this.#run.destinations[index]!.folder;
    if (isDiskTrouble(error)) {
      this.lose(
        index,
        `Expected to write ${path} to ${disk} but ${meaningOf(error)}. No more is copied there; mend that and bring the card in again, it goes on where it was.`,
      );
    } else {
      this.#meter.trouble(
        `Expected to write ${path} to ${disk} but ${meaningOf(error)}. The other files go on; bring the card in again to have another try.`,
      );
    }
  }

  async proveCopies(
    step: Exclude<CopyStep, { kind: 'already-here' }>,
    file: FillFile,
    standing: ReadonlyMap<number, TargetOutcome>,
  ): Promise<void> {
    const proven = [...standing].map(([index, target]) => this.#proveCopy(index, target, file));
    const results = await Promise.all(proven);
    const worst = results.find((result) => result.kind === 'mismatch') ?? results.find((r) => r.kind === 'unproven');
    const { path } = step.file;
    const common = { path, fileId: file.fileId, bytes: file.bytes };
    if (worst?.kind === 'mismatch') this.#outcomes.set(path, { kind: 'mismatch', path, ...worst.found });
    else if (worst?.kind === 'unproven')
      this.#outcomes.set(path, { kind: 'written-not-read-back', ...common, why: worst.why });
    else if (results.length > 0) this.#outcomes.set(path, { kind: 'verified', ...common, copies: results.length });
    else this.#outcomes.set(path, { kind: 'written-not-read-back', ...common, why: 'no destination took it' });
  }

  /**
   * A copy that could not be read back from its disk when it was made gets another try, and so does one whose size or
   * time is no longer what its manifest says.
   */
  async proveAgain(step: Extract<CopyStep, { kind: 'already-here' }>): Promise<void> {
    const path = step.to ?? step.file.path;
    for (const [index, fill] of this.#fills) {
      const held = fill.held.get(path);
      if (held === undefined) continue;
      const final = join(fill.folder, path);
      if (held.notReadBack === undefined && (await this.#isUntouched(final, held))) continue;
      const { notReadBack: _, ...file } = held;
      const proof = await this.#proveCopy(index, { kind: 'there', final }, file);
      if (proof.kind !== 'mismatch') continue;
      fill.held.delete(path);
      this.#outcomes.set(step.file.path, { kind: 'mismatch', path: step.file.path, ...proof.found });
    }
  }

  async #isUntouched(path: string, held: FillFile): Promise<boolean> {
    const there = await this.#run.disk.look(path);
    return there?.size === held.bytes && Math.abs(there.mtimeMs - held.modified) <= TIME_TOLERANCE_MS;
  }

  async #proveCopy(index: number, target: TargetOutcome, file: FillFile): Promise<Proof> {
    const path = join(this.#fills.get(index)!.folder, file.path);
    try {
      const read = await this.#run.readBackLimits[index]!(() =>
        readBack(this.#run.disk, path, ['xxh128'], (bytes) => this.#meter.readBack(index, bytes), this.#run.signal),
      );
      const received = read.hashes.get('xxh128')!;
      if (received !== file.fileId) return this.#copyDiffers(index, target, file, received);
      const held = this.#fills.get(index)!.held.get(file.path);
      const before = held?.notReadBack;
      const isProven = read.notPastCache === undefined || (before !== undefined && isFromEarlierStart(before));
      const note = isProven ? undefined : (before ?? noteWithStart(read.notPastCache!));
      if (held === undefined || note !== before) await this.#vouch(index, withNote(file, note));
      return isProven ? { kind: 'verified' } : { kind: 'unproven', why: read.notPastCache! };
    } catch (error) {
      if (this.#run.signal?.aborted) return { kind: 'unproven', why: 'it was stopped' };
      this.#destinationFailed(index, file.path, error);
      return { kind: 'unproven', why: meaningOf(error) };
    }
  }

  async #vouch(index: number, file: FillFile): Promise<void> {
    const fill = this.#fills.get(index)!;
    await fill.journal.append({ kind: 'read-back', file });
    fill.held.set(file.path, file);
    fill.unsaid.set(file.path, file);
  }

  /** Our own copy is removed; a file that was there before us is somebody's and stays. */
  async #copyDiffers(index: number, target: TargetOutcome, file: FillFile, received: string): Promise<Proof> {
    const disk = this.#run.destinations[index]!.folder;
    const isOurs = target.kind === 'written';
    const isVouchedFor = this.#fills.get(index)!.held.has(file.path);
    if (isOurs) await this.#run.disk.remove(target.final);
    const sentence = isOurs
      ? `Expected ${file.fileId} for ${file.path} on ${disk} but read back ${received}; the copy was removed. Check that disk and bring the card in again.`
      : isVouchedFor
        ? `Expected ${file.fileId} for ${file.path} on ${disk} but read ${received}: it was changed or damaged since it was copied. It was left alone; mend the meeting there from the other disk (tyrewall mend), or move the file away and bring the card in again.`
        : `Another file stands under ${file.path} on ${disk}, and no manifest knows it. It was left alone; move it away and bring the card in again.`;
    this.#meter.trouble(sentence);
    return { kind: 'mismatch', found: { expected: file.fileId, received, sentence } };
  }

  /** At one time on all disks: manifests that say the same are then the same, and one can mend the other. */
  async seal(plan: CopyPlan, own: OwnHistory | null): Promise<void> {
    const at = epochMsOf(this.#run.now());
    for (const [index, fill] of this.#fills) {
      try {
        if (own !== null && !isPartial(own, fill)) await carryHistory(own, fill);
        await sealFill(fill, plan.fill, at);
      } catch (error) {
        this.lose(
          index,
          `The manifest could not be written to ${this.#run.destinations[index]!.folder}: ${meaningOf(error)}. Bring the card in again; nothing is copied twice.`,
        );
      }
    }
  }

  /** What each destination holds of the fill, lost ones included. */
  copies(): readonly Copy[] {
    return this.#run.destinations.map((destination, index) => ({
      disk: destination.folder,
      device: destination.device,
      files: [...(this.#fills.get(index)?.held.values() ?? [])],
    }));
  }

  generations(): readonly number[] {
    return this.#run.destinations.map((_, index) => this.#fills.get(index)?.generation ?? 0);
  }
}

/** True when a destination lacks the file of a step. */
export function lacks(step: CopyStep, index: number): boolean {
  return step.kind !== 'already-here' && (step.onto?.includes(index) ?? true);
}

/** A history that vouches for files which did not arrive would promise too much. */
const isPartial = (own: OwnHistory, fill: FillOnDisk): boolean =>
  own.fill.files.some((file) => !fill.held.has(file.path));
