/** A meeting open and alive: cards come in, frames are measured, the arrangement follows. */
import { access } from 'node:fs/promises';
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import type { BikeRef } from '../../core/arrange/types.js';
import type { CardProgress, Fill } from '../../core/bringin/types.js';
import type { FrameId, GestureId } from '../../core/ids.js';
import type { LogLine } from '../../core/log/types.js';
import type { PixelRect } from '../../core/measure/images.js';
import type { MeasuredLine } from '../../core/measure/types.js';
import { bringIn as bringInCards, type CardWatch, watchForCards } from '../bringin/index.js';
import { newGestureId } from '../logbook/index.js';
import { createMeasurePool } from '../measure/index.js';
import type { CloseLooker, MeasurePool } from '../measure/types.js';
import type { Meeting } from '../meeting/types.js';
import { createBookings } from '../plan/tables/bookings.js';
import { announcer } from './announcer.js';
import { type News, placeOf } from './arrangeMessages.js';
import { type Arranged, type MakeArranger, threadArranger } from './arranger.js';
import { bestOfPasses } from './bestOfPasses.js';
import { closeLook } from './closeLook.js';
import { DayError } from './dayError.js';
import { nothingDerived, spotsOf, timetableOf } from './derive.js';
import { filesHere } from './filesHere.js';
import type { MainFile } from './judgeRunner.js';
import { keepArranged } from './keepArranged.js';
import { calibrationToLog, LEARNT_AGAIN } from './logCalibration.js';
import { type FileHere, measureRunner } from './measureRunner.js';
import { type RememberedCards, rememberCards } from './rememberedCards.js';
import { secondDisks } from './secondDisks.js';
import type { CropAnswer, Day, DayState } from './types.js';
import { wallNowAt } from './wallNow.js';

export interface DayOptions {
  /** The same meeting's folders on other disks; cards are copied to all of them. */
  readonly otherDisks?: readonly string[];
  /** Children that measure. Default: one a core. */
  readonly workers?: number;
  /** Brings in a card by itself when one appears. */
  readonly watchesForCards?: boolean;
  readonly watch?: typeof watchForCards;
  readonly bringIn?: typeof bringInCards;
  readonly pool?: MeasurePool;
  /** Default: the pool, where that is the day's own. */
  readonly looker?: CloseLooker;
  /** Judges the best few of every pass by itself, once all is measured. */
  readonly judges?: boolean;
  readonly arranger?: MakeArranger;
  readonly now?: () => number;
}

/** A poisoned file may hold a child for so long at most. Full frames of 60 megapixels take under 5 s on slow laptops. */
const MEASURE_TIME_LIMIT_MS = 60_000;

export async function openDay(meeting: Meeting, options: DayOptions = {}): Promise<Day> {
  const day = new OpenDay(meeting, options);
  await day.start();
  return day;
}

class OpenDay implements Day {
  readonly #meeting: Meeting;
  readonly #options: DayOptions;
  readonly #now: () => number;
  readonly #pool: MeasurePool;
  readonly #arranger;
  readonly #runner;
  readonly #closeLook;
  readonly #arranging;
  readonly #secondDisks;
  readonly #withBookings;
  readonly #announcer = announcer();
  readonly #files;
  readonly #cards = new Map<string, CardProgress>();
  readonly #notices: string[] = [];
  /** Holds only while cards come in. */
  #passingNotice: string | null = null;
  /** Copying; and bringing in as a whole, with what follows. */
  readonly #copying = new Set<Promise<unknown>>();
  readonly #bringingIn = new Set<Promise<void>>();
  readonly #cardsInHand = new Set<string>();
  readonly #picturesInHand = new Map<FrameId, Promise<string | null>>();
  readonly #stop = new AbortController();
  #fills: readonly Fill[] = [];
  #arranged: Arranged = { derived: nothingDerived, tookMs: 0 };
  #cardWatch: CardWatch | null = null;
  #toldLines = 0;
  #asOf = 0;
  /** A calibration is being written: the arrangement with it is still to come. */
  #isLearning = false;
  #state: DayState | null = null;
  #remembered: RememberedCards | null = null;

  constructor(meeting: Meeting, options: DayOptions) {
    this.#meeting = meeting;
    this.#options = options;
    this.#now = options.now ?? Date.now;
    const ownPool = options.pool === undefined ? defaultPool(meeting, options) : null;
    this.#pool = options.pool ?? ownPool!;
    this.#files = filesHere(meeting.measured);
    this.#withBookings = createBookings((person) => meeting.people?.get(person));
    const settings = { zone: meeting.about.zone, spots: meeting.about.spots };
    this.#arranger = (options.arranger ?? threadArranger)(settings, () => this.#everything());
    this.#runner = measureRunner({
      pool: this.#pool,
      store: meeting.measured,
      now: this.#now,
      onMeasured: (line) => this.#measured(line),
      onIdle: () => this.#measuredAll(),
      onTrouble: (sentence) => this.#notice(sentence),
    });
    this.#closeLook = closeLook({
      meeting,
      looker: options.looker ?? ownPool,
      isByItself: options.judges === true,
      fileOf: (frame) => this.#mainFile(frame),
      mayRun: () => this.#copying.size === 0 && this.#runner.isIdle(),
      onJudged: (bike) => {
        this.#arranger.tell({ judgements: [bike] });
        this.#secondDisks.changed();
        this.#changed();
      },
      onRested: () => this.#arranging.changed(false),
      onTrouble: (sentence) => this.#notice(sentence),
      now: this.#now,
    });
    this.#arranging = keepArranged({
      arranger: this.#arranger,
      wallNow: () => wallNowAt(meeting.about, this.#now()),
      onArranged: (arranged) => this.#takeArranged(arranged),
      onTrouble: (sentence) => this.#notice(sentence),
    });
    const otherDisks = meeting.isForLooking ? [] : (options.otherDisks ?? []);
    this.#secondDisks = secondDisks(meeting.folder, otherDisks, (sentence) => this.#notice(sentence));
  }

  async start(): Promise<void> {
    for (const sentence of this.#meeting.notices ?? []) this.#notice(sentence);
    this.#remembered = await rememberCards(join(this.#meeting.stateFolder, 'cards.json'), this.#now);
    await this.#readFills();
    this.#toldLines = this.#meeting.log.folded().lines.length;
    this.#arranging.changed(true);
    this.#secondDisks.changed();
    if (this.#options.watchesForCards && !this.#meeting.isForLooking) this.#watchForCards();
  }

  state(): DayState {
    this.#state ??= this.#newState();
    return this.#state;
  }

  cards(): readonly CardProgress[] {
    return [...this.#cards.values()];
  }

  rememberedCards(): ReturnType<Day['rememberedCards']> {
    return this.#remembered?.all() ?? new Map();
  }

  notices(): readonly string[] {
    return this.#passingNotice === null ? this.#notices : [...this.#notices, this.#passingNotice];
  }

  async decide(gesture: GestureId, decisions: Parameters<Day['decide']>[1]): Promise<void> {
    await this.#meeting.log.append(gesture, decisions);
    this.#tellNewLines();
  }

  async withdraw(gesture: GestureId): Promise<GestureId> {
    const withdrawing = newGestureId();
    await this.decide(withdrawing, [{ kind: 'withdraw', gesture }]);
    return withdrawing;
  }

  async bringIn(cards: readonly string[]): Promise<void> {
    if (this.#meeting.isForLooking) throw new DayError(`Expected to bring cards in, but ${lookingOnly(this.#meeting)}`);
    const fresh = cards.filter((card) => !this.#cardsInHand.has(card));
    if (fresh.length === 0) return;
    const whole = this.#bringInAndFollow(fresh);
    this.#bringingIn.add(whole);
    await whole.finally(() => this.#bringingIn.delete(whole));
    // Measuring and arranging may have ended before the second disk had its copy.
    this.#logCalibration();
  }

  async #bringInAndFollow(cards: readonly string[]): Promise<void> {
    for (const card of cards) this.#cardsInHand.add(card);
    const copying = this.#bringInNow(cards);
    this.#copying.add(copying);
    try {
      await copying;
    } finally {
      this.#copying.delete(copying);
      if (this.#copying.size === 0) this.#endPassingNotice();
      for (const card of cards) this.#cardsInHand.delete(card);
      await this.#readFills();
      this.#arranging.changed(true);
      await this.#secondDisks.bring();
    }
  }

  async #bringInNow(cards: readonly string[]): Promise<void> {
    const report = await (this.#options.bringIn ?? bringInCards)({
      cards,
      destinations: [this.#meeting.folder, ...(this.#options.otherDisks ?? [])],
      signal: this.#stop.signal,
      onProgress: (progress) => this.#takeProgress(progress),
      onMayFallAsleep: (why) => this.#noticeWhileCopying(mayFallAsleep(why)),
      onFileCopied: ({ fileId, fill, path, absolutePath }) => this.#addFiles([{ fileId, fill, path, absolutePath }]),
    });
    for (const { sentence } of report.refused) this.#notice(sentence);
  }

  #watchForCards(): void {
    this.#cardWatch = (this.#options.watch ?? watchForCards)((card) => {
      this.bringIn([card]).catch((problem: Error) => this.#notice(problem.message));
    });
  }

  async picture(frame: FrameId): Promise<string | null> {
    const path = join(this.#meeting.stateFolder, 'pictures', `${frame}.jpg`);
    if (await isThere(path)) return path;
    const making = this.#picturesInHand.get(frame) ?? this.#makePicture(frame, path);
    this.#picturesInHand.set(frame, making);
    return making.finally(() => this.#picturesInHand.delete(frame));
  }

  crop(frame: FrameId, rect: PixelRect): Promise<CropAnswer> {
    return this.#closeLook.crop(frame, rect);
  }

  hasCrop(frame: FrameId, rect: PixelRect): Promise<boolean> {
    return this.#closeLook.hasCrop(frame, rect);
  }

  lookAt(bikes: readonly BikeRef[]): void {
    this.#closeLook.lookAt(bikes);
  }

  original(frame: FrameId): string | null {
    return this.#files.ofFrame(frame)?.absolutePath ?? null;
  }

  subscribe(listener: Parameters<Day['subscribe']>[0]): () => void {
    return this.#announcer.subscribe(listener);
  }

  async settled(): Promise<DayState> {
    while (this.#isLearning || !this.#isSettled()) await new Promise((resolve) => setTimeout(resolve, LOOK_AGAIN_MS));
    return this.state();
  }

  async allJudged(): Promise<DayState> {
    do {
      await this.settled();
      await new Promise((resolve) => setTimeout(resolve, LOOK_AGAIN_MS));
    } while (!this.#closeLook.isIdle() || !this.#isSettled());
    return this.state();
  }

  /** Ends what it started; copying stops after the file in hand and goes on at the next bringing in. */
  async close(): Promise<void> {
    this.#cardWatch?.stop();
    this.#stop.abort();
    await Promise.allSettled(this.#bringingIn);
    await this.#remembered?.written();
    this.#arranging.close();
    await this.#arranger.close();
    await this.#runner.close();
    await this.#closeLook.close();
    if (this.#options.pool === undefined) await this.#pool.close();
    await this.#secondDisks.close();
    this.#announcer.close();
  }

  #isSettled(): boolean {
    return this.#bringingIn.size === 0 && this.#runner.isIdle() && this.#arranging.isCurrent();
  }

  #newState(): DayState {
    const log = this.#withBookings(this.#meeting.log.folded());
    return {
      asOf: this.#asOf,
      about: { ...this.#meeting.about, spots: spotsOf(log, this.#meeting.about.spots) },
      timetable: timetableOf(log),
      fills: this.#fills,
      ...this.#arranged.derived,
      log,
      metadata: this.#meeting.measured.allMetadata(),
      pixels: this.#meeting.measured.allPixels(),
      judgements: this.#meeting.measured.allJudged(),
      judged: this.#closeLook.judged(),
      judging: this.#closeLook.standing(),
      toMeasure: { left: this.#runner.left(), secondsLeft: this.#runner.secondsLeft() },
      arrangedInMs: this.#arranged.tookMs,
    };
  }

  #changed(): void {
    this.#asOf++;
    this.#state = null;
    this.#announcer.state(this.#asOf);
  }

  #notice(sentence: string): void {
    if (this.#notices.includes(sentence)) return;
    this.#notices.push(sentence);
    this.#announcer.notice(sentence);
  }

  #noticeWhileCopying(sentence: string): void {
    this.#passingNotice = sentence;
    this.#announcer.notice(sentence, 'passing');
  }

  #endPassingNotice(): void {
    if (this.#passingNotice === null) return;
    this.#passingNotice = null;
    this.#changed();
  }

  async #readFills(): Promise<void> {
    this.#fills = await this.#meeting.fills();
    const here = this.#fills.flatMap((fill) =>
      fill.files.map(({ fileId, path }) => ({
        fileId,
        fill: fill.id,
        path,
        absolutePath: this.#meeting.pathOf(fill, path),
      })),
    );
    // While a card is still coming in, its newest files stand in no manifest yet.
    const gone = this.#copying.size === 0 ? this.#files.keepOnly(new Set(here.map(placeOf))) : [];
    if (gone.length > 0) this.#arranger.tell({ goneFiles: gone });
    this.#addFiles(here);
  }

  #addFiles(files: readonly FileHere[]): void {
    const added = this.#files.add(files);
    if (added.length === 0) return;
    const known = added.flatMap(({ fileId }) => this.#files.known(fileId));
    if (known.length > 0) this.#arranger.tell({ files: known });
    if (!this.#meeting.isForLooking) this.#runner.add(added);
    this.#changed();
    if (known.length > 0) this.#arranging.changed(false);
  }

  #everything(): News {
    return {
      files: this.#files.allKnown(),
      pixels: [...this.#meeting.measured.allPixels().values()],
      judgements: [...this.#meeting.measured.allJudged().values()].flat(),
      lines: this.#meeting.log.folded().lines,
    };
  }

  #measured(line: MeasuredLine): void {
    const { measured } = this.#meeting;
    if (line.kind === 'metadata') {
      this.#files.metadataKnown(line.metadata.fileId);
      this.#arranger.tell({ files: this.#files.known(line.metadata.fileId) });
    } else {
      const pixels = measured.pixels(line.pixels.frameId);
      if (pixels !== undefined) this.#arranger.tell({ pixels: [pixels] });
      this.#closeLook.measured();
    }
    this.#changed();
    this.#arranging.changed(false);
    this.#secondDisks.changed();
  }

  #measuredAll(): void {
    this.#arranging.hurry();
    this.#closeLook.goOn();
    this.#changed();
    this.#logCalibration();
  }

  #takeArranged(arranged: Arranged): void {
    this.#arranged = arranged;
    if (!this.#meeting.isForLooking) {
      this.#runner.wantFull(bestOfPasses(arranged.derived.arrangement, this.#meeting.measured.allPixels()));
    }
    this.#closeLook.arranged(arranged.derived);
    this.#changed();
    this.#logCalibration();
  }

  /** Settled is only who has nothing to log: what is arranged with it is what a terminal prints and a gallery shows. */
  #logCalibration(): void {
    if (this.#meeting.isForLooking || this.#stop.signal.aborted) return;
    if (this.#isLearning || !this.#isSettled()) return;
    const files = this.#fills.reduce((sum, fill) => sum + fill.files.length, 0);
    const { calibration: used } = this.#arranged.derived.arrangement;
    const toLog = calibrationToLog(this.#meeting.log.folded(), used, files);
    if (toLog === null) return;
    this.#isLearning = true;
    if (toLog.isForWords) this.#notice(LEARNT_AGAIN);
    this.decide(newGestureId(), [{ kind: 'calibration', calibration: toLog.calibration }])
      .catch((problem: Error) => this.#notice(problem.message))
      .finally(() => {
        this.#isLearning = false;
      });
  }

  #tellNewLines(): void {
    const { lines } = this.#meeting.log.folded();
    const news: readonly LogLine[] = lines.slice(this.#toldLines);
    this.#toldLines = lines.length;
    if (news.length === 0) return;
    this.#arranger.tell({ lines: news });
    this.#changed();
    this.#arranging.changed(true);
    this.#secondDisks.changed();
  }

  #takeProgress(progress: CardProgress): void {
    this.#cards.set(progress.card, progress);
    this.#remembered?.take(progress);
    this.#announcer.card(progress);
  }

  #mainFile(frame: FrameId): MainFile | null {
    const file = this.#files.ofFrame(frame);
    const metadata = file === undefined ? undefined : this.#meeting.measured.metadata(file.fileId);
    return file === undefined || metadata === undefined ? null : { path: file.absolutePath, metadata };
  }

  async #makePicture(frame: FrameId, path: string): Promise<string | null> {
    const file = this.#mainFile(frame);
    if (file === null || !(await isThere(file.path))) return null;
    await this.#pool.measure({ kind: 'pixels', ...file, tier: 'preview' }).catch(() => null);
    return (await isThere(path)) ? path : null;
  }
}

const LOOK_AGAIN_MS = 20;

const defaultPool = (meeting: Meeting, options: DayOptions): MeasurePool & CloseLooker =>
  createMeasurePool({
    workers: options.workers ?? availableParallelism(),
    pictureFolder: join(meeting.stateFolder, 'pictures'),
    timeLimitMs: MEASURE_TIME_LIMIT_MS,
  });

const lookingOnly = (meeting: Meeting): string => `the meeting in ${meeting.folder} is open for looking only.`;

const mayFallAsleep = (why: string): string =>
  `This machine may fall asleep while a card comes in (${why}). Keep its lid open and its screen awake until the card is done.`;

const isThere = (path: string): Promise<boolean> =>
  access(path).then(
    () => true,
    () => false,
  );
