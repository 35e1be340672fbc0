/**
 * The service is killed with SIGKILL while riders order, providers tell of money, a laptop brings finals and zips are read; after each start,
 * before anybody says anything again, its books are held against what was acknowledged. Rules OR15–OR18, HD10, HD16, HD19.
 */
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import type { Paper } from '../../../src/core/handover/orders/index.js';
import { seededRandom } from '../../../src/core/numeric/random.js';
import type { NumberedFact } from '../../../src/shop/db/index.js';
import { adminClient } from '../../../src/shop/service/adminClient.js';
import { compareBooks, type Faults } from './books.js';
import { offer, settings } from './day.js';
import { Riders } from './riders.js';
import { type Life, serviceOf } from './service.js';

/** Riders who are under way at once. */
const AT_ONCE = 8;
/** The moment of a kill is drawn over so many answers, and then some milliseconds more. */
const ANSWERS = 60;
const MOST_MS = 12;
const MOST_AT_ONCE = 1000;

export interface KillWish {
  readonly program: string;
  readonly runs: number;
  /** Of PostgreSQL; null for the file in the service's folder. */
  readonly database: string | null;
  readonly seed: number;
  readonly onRun?: (done: number) => void;
}

export interface KillReport extends Faults {
  readonly engine: string;
  readonly runs: number;
  readonly orders: number;
  readonly moved: number;
  readonly papers: number;
  /** Requests that a kill cut off. */
  readonly cutOff: number;
  /** Kills that cut off at least one. */
  readonly hits: number;
  readonly zips: number;
  readonly resumedZips: number;
}

export async function killOrders(wish: KillWish): Promise<KillReport> {
  const folder = await mkdtemp(join(tmpdir(), 'tyrewall-kill-'));
  try {
    return await new Killing(wish, folder).run();
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

class Killing {
  readonly #wish: KillWish;
  readonly #data: string;
  readonly #random: () => number;
  readonly #riders: Riders;
  readonly #going = new Set<Promise<void>>();
  readonly #failures: unknown[] = [];
  /** What was read from the service over all its lives. */
  readonly #facts: NumberedFact[] = [];
  readonly #faults = { lost: new Set<string>(), doubled: new Set<string>(), wrong: new Set<string>() };
  #come = 0;
  #hits = 0;
  #papers = 0;

  constructor(wish: KillWish, folder: string) {
    this.#wish = wish;
    this.#data = join(folder, 'orders');
    this.#random = seededRandom(wish.seed).next;
    this.#riders = new Riders(this.#random);
  }

  async run(): Promise<KillReport> {
    const { program, database, runs, onRun } = this.#wish;
    const service = await serviceOf({ program, data: this.#data, settings, offer, database });
    for (let run = 0; run < runs; run++) {
      const life = await service.start();
      await this.#workAndKill(life, run === 0);
      if (this.#failures.length > 0) throw this.#failures[0];
      onRun?.(run + 1);
    }
    const last = await service.start();
    await this.#begin(last);
    await Promise.all(this.#going);
    if (this.#failures.length > 0) throw this.#failures[0];
    // All of it read anew, and nobody is under way any more.
    this.#facts.length = 0;
    await this.#compare(last);
    this.#riders.closeDoor();
    await last.kill('SIGTERM');
    const { sold, moved, cutOff, zips, resumedZips, wrong } = this.#riders;
    return {
      lost: [...this.#faults.lost],
      doubled: [...this.#faults.doubled],
      wrong: [...this.#faults.wrong, ...wrong],
      engine: database === null ? 'libsql' : 'PostgreSQL',
      runs,
      orders: sold.length,
      moved: moved.length,
      papers: this.#papers,
      cutOff,
      hits: this.#hits,
      zips,
      resumedZips,
    };
  }

  async #begin(life: Life): Promise<void> {
    await this.#compare(life);
    const adminKey = await this.#adminKey();
    this.#riders.openDoor(life, adminKey);
    this.#riders.laptop(life).catch((error: unknown) => this.#failures.push(error));
  }

  async #workAndKill(life: Life, isFirst: boolean): Promise<void> {
    await this.#begin(life);
    const until = this.#riders.answers + Math.floor(this.#random() * ANSWERS);
    const moreMs = Math.floor(this.#random() * MOST_MS);
    do {
      while (this.#going.size < AT_ONCE) this.#goes(this.#riders.comes(this.#come++));
      await wait(1);
      // The first one brings the large set, so that its zip is there to be cut off in every later one.
    } while ((this.#riders.answers < until || (isFirst && this.#riders.zips === 0)) && this.#failures.length === 0);
    await wait(moreMs);
    const before = this.#riders.cutOff;
    this.#riders.closeDoor();
    await life.kill();
    // Whoever was cut off hears of it.
    await wait(5);
    if (this.#riders.cutOff > before) this.#hits += 1;
  }

  #goes(rider: Promise<void>): void {
    const gone = rider
      .catch((error: unknown) => void this.#failures.push(error))
      .finally(() => this.#going.delete(gone));
    this.#going.add(gone);
  }

  async #adminKey(): Promise<string> {
    return (await readFile(join(this.#data, 'admin.key'), 'utf8')).trim();
  }

  async #compare(life: Life): Promise<void> {
    const client = adminClient(life.adminSite, await this.#adminKey());
    for await (const { facts } of client.factsSince(this.#facts.at(-1)?.seq ?? 0, null)) this.#facts.push(...facts);
    const papers: Paper[] = [];
    const years = new Set(this.#facts.map(({ at }) => new Date(at).getUTCFullYear()));
    for (const year of years)
      for (const series of [`K${year}`, `KC${year}`]) papers.push(...(await papersOf(client, series)));
    this.#papers = papers.length;
    const { lost, doubled, wrong } = compareBooks(this.#riders, this.#facts, papers);
    for (const one of lost) this.#faults.lost.add(one);
    for (const one of doubled) this.#faults.doubled.add(one);
    for (const one of wrong) this.#faults.wrong.add(one);
  }
}

async function papersOf(client: ReturnType<typeof adminClient>, series: string): Promise<readonly Paper[]> {
  const papers: Paper[] = [];
  for (;;) {
    const since = papers.at(-1)?.number ?? 0;
    const answer = await client.plain(`/api/papers/${series}?since=${since}&most=${MOST_AT_ONCE}`);
    const page = (await answer.json()) as readonly Paper[];
    if (page.length === 0) return papers;
    papers.push(...page);
  }
}
