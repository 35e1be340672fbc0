/**
 * Finals on demand. Where the originals are they are made here, one batch after another, however many ask; elsewhere they wait until the
 * laptop brings them, and that is said. Asked twice, a final is made once. Rules HD13–HD16.
 */
import { randomUUID } from 'node:crypto';
import { mkdir, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import type { FinalAnswer, FinalMaker, FinalsOf, FinalWish, ReadyFinal } from '../types.js';
import type { FinalStore } from './finalStore.js';

/** So many of one kind are made before others get their turn. */
const MOST_A_BATCH = 24;
/** A set is asked for picture by picture; children are started once for all of it. */
const GATHER_MS = 50;

export interface FinalsProgress {
  /** Wished for and not standing. */
  readonly waiting: number;
  /** Of the batch in hand. */
  readonly done: number;
}

const NOT_HERE =
  'Expected it among the frames of this meeting, but it is of none. Bring its card in again, or open the meeting it was put up from.';

const keyOf = ({ picture, licence, longEdgePx }: FinalWish): string => JSON.stringify([picture, licence, longEdgePx]);
const kindOf = ({ licence, longEdgePx }: FinalWish): string => JSON.stringify([licence, longEdgePx]);

export class Finals implements FinalsOf {
  readonly #store: FinalStore;
  readonly #maker: FinalMaker | null;
  readonly #work: string;
  readonly #wished = new Map<string, FinalWish>();
  readonly #refused = new Map<string, string>();
  readonly #listeners: (() => void)[] = [];
  #running: Promise<void> | null = null;
  #done = 0;

  constructor(store: FinalStore, dataFolder: string, maker: FinalMaker | null) {
    this.#store = store;
    this.#maker = maker;
    this.#work = join(dataFolder, 'making');
  }

  onSettled(listener: () => void): void {
    this.#listeners.push(listener);
  }

  async want(wish: FinalWish): Promise<FinalAnswer> {
    const standing = await this.#store.find(wish);
    if (standing) return { kind: 'ready', ...standing };
    const key = keyOf(wish);
    const sentence = this.#refused.get(key);
    if (sentence !== undefined) return { kind: 'cannot', sentence };
    this.#wished.set(key, wish);
    if (this.#maker === null) return { kind: 'waits-for-laptop' };
    this.#start(this.#maker);
    return { kind: 'being-made' };
  }

  stands = async (wish: FinalWish): Promise<boolean> => (await this.#store.find(wish)) !== null;

  /** What somebody has to bring, or what is being made. */
  wanted(): readonly FinalWish[] {
    return [...this.#wished.values()];
  }

  progress(): FinalsProgress {
    return { waiting: this.#wished.size, done: this.#done };
  }

  /** Something said no before, and it is worth another try: a card was brought in, the disk has room again. */
  tryAgain(): void {
    this.#refused.clear();
  }

  /** Brought by the laptop. */
  async bring(wish: FinalWish, from: string): Promise<ReadyFinal> {
    const ready = await this.#store.put(wish, from);
    this.#settle(keyOf(wish), null);
    this.#tell();
    return ready;
  }

  /** The laptop says that there will be none. */
  refuse(wish: FinalWish, sentence: string): void {
    this.#settle(keyOf(wish), sentence);
    this.#tell();
  }

  /** When nothing is being made any more. */
  async idle(): Promise<void> {
    while (this.#running !== null) await this.#running;
  }

  #start(maker: FinalMaker): void {
    this.#running ??= this.#makeAll(maker).finally(() => {
      this.#running = null;
    });
  }

  async #makeAll(maker: FinalMaker): Promise<void> {
    await setTimeout(GATHER_MS);
    for (let batch = this.#nextBatch(); batch.length > 0; batch = this.#nextBatch()) {
      await this.#makeBatch(maker, batch);
      this.#tell();
    }
  }

  /** Of one licence and size, the longest waiting first. */
  #nextBatch(): readonly FinalWish[] {
    const [first] = this.#wished.values();
    if (!first) return [];
    return [...this.#wished.values()].filter((one) => kindOf(one) === kindOf(first)).slice(0, MOST_A_BATCH);
  }

  async #makeBatch(maker: FinalMaker, batch: readonly FinalWish[]): Promise<void> {
    const folder = join(this.#work, randomUUID());
    this.#done = 0;
    try {
      await rm(this.#work, { recursive: true, force: true });
      await mkdir(folder, { recursive: true, mode: 0o700 });
      const pictures = batch.map(({ picture }) => picture);
      const made = await maker.make(pictures, batch[0]!, folder, (done) => {
        this.#done = done;
      });
      for (const wish of batch) {
        const one = made.get(wish.picture) ?? { sentence: NOT_HERE };
        if ('path' in one) await this.#store.put(wish, one.path);
        this.#settle(keyOf(wish), 'path' in one ? null : one.sentence);
      }
    } catch (error) {
      // Nobody's picture in particular: all of the batch are refused with it until they are tried again.
      for (const wish of batch) if (this.#wished.has(keyOf(wish))) this.#settle(keyOf(wish), (error as Error).message);
    } finally {
      await rm(folder, { recursive: true, force: true });
    }
  }

  #settle(key: string, sentence: string | null): void {
    this.#wished.delete(key);
    if (sentence !== null) this.#refused.set(key, sentence);
  }

  #tell(): void {
    for (const listener of this.#listeners) listener();
  }
}
