/** `tyrewall bring-in <card…> --to <disk> --to <second disk>`: copies, proves, measures, arranges, and says how things stand. */
import { stat } from 'node:fs/promises';
import { resolve } from 'node:path';
import { listCard, onCardTrouble } from '../host/bringin/index.js';
import { bringInAtDesk, deskAddressIn } from './askDesk.js';
import { cardLines, missingOf } from './cardLines.js';
import { CliError } from './cliError.js';
import { daysOfCards, saidDays } from './dayOfCards.js';
import { type MeetingWish, meetingOnDisks } from './meetingFolders.js';
import { openWholeDay, type WholeDay } from './openWholeDay.js';
import { dayLines } from './printDay.js';
import { createProgressBoard, type ProgressBoard, standingOfCard } from './progress.js';
import { counted, onOneLine, secondsInWords } from './words.js';

export interface BringInWish {
  readonly to?: readonly string[];
  readonly name?: string;
  readonly zone?: string;
  /** `YYYY-MM-DD`, or the first and the last with a slash between; else guessed from the cards, and said. */
  readonly day?: string;
}

export async function bringInCommand(cards: readonly string[], wish: BringInWish): Promise<void> {
  const readable = await cardsThatAreThere(cards);
  await makeSureOfFiles(readable);
  const { name, zone } = wish;
  const { sentence, ...days } = wish.day === undefined ? await daysOfCards(readable) : saidDays(wish.day);
  if (sentence !== null) console.log(sentence);
  const meetingWish: MeetingWish = {
    ...days,
    isDaySaid: wish.day !== undefined,
    ...(name === undefined ? {} : { name }),
    ...(zone === undefined ? {} : { zone }),
  };
  const [folder = '', ...others] = await meetingOnDisks(await disksApart(wish.to ?? [], readable), meetingWish, {
    refuse: complain,
    say: console.log,
  });
  console.log(`Meeting folder: ${folder}`);
  const whole = await openOrAsk(folder, others, readable);
  if (whole === null) return;
  // Disks said on an earlier day are remembered and count.
  if (whole.otherDisks.length === 0)
    console.log('One copy only: give a second --to on another disk before any card is formatted.');
  try {
    const isAllWell = await bringInShowing(whole, readable);
    for (const line of dayLines(whole.day.state())) console.log(line);
    if (!isAllWell) process.exitCode = 1;
  } finally {
    await whole.close();
  }
}

/** Null when the desk has the meeting open and has brought the cards in itself. */
async function openOrAsk(
  folder: string,
  otherDisks: readonly string[],
  cards: readonly string[],
): Promise<WholeDay | null> {
  try {
    return await openWholeDay(folder, { otherDisks });
  } catch (error) {
    const address = deskAddressIn(error);
    if (address === null) throw error;
    const isAllWell = await bringInAtDesk(
      address,
      cards.map((card) => resolve(card)),
      console.log,
    );
    if (!isAllWell) process.exitCode = 1;
    return null;
  }
}

/** Copies and measures with progress; prints each card's verdict. True when no card is in trouble. */
export async function bringInShowing(whole: WholeDay, cards: readonly string[]): Promise<boolean> {
  const board = createProgressBoard();
  const stopped = stopOnInterrupt(whole, board);
  // A folder that stands for several cards is told of by each of them.
  const told = new Set<string>();
  const unsubscribe = whole.day.subscribe((event) => {
    if (event.kind === 'card') {
      told.add(event.progress.card);
      board.show(standingOfCard(event.progress));
    }
    if (event.kind === 'state') showMeasuring(board, whole);
    if (event.kind === 'notice' && event.isPassing) board.say(onOneLine(event.sentence));
  });
  try {
    await whole.day.bringIn(cards);
    await whole.day.settled();
    showMeasuring(board, whole);
  } finally {
    unsubscribe();
    stopped.forget();
    board.close();
  }
  const ours = whole.day.cards().filter((card) => told.has(card.card));
  const saidOfCards = new Set(ours.flatMap((card) => [...missingOf(card), ...card.troubles]));
  for (const notice of whole.day.notices()) if (!saidOfCards.has(notice)) console.log(onOneLine(notice));
  for (const line of ours.flatMap(cardLines)) console.log(line);
  return ours.every((card) => card.troubles.length === 0);
}

function showMeasuring(board: ReturnType<typeof createProgressBoard>, { day }: WholeDay): void {
  const { toMeasure, pixels } = day.state();
  const total = pixels.size + toMeasure.left;
  if (total === 0) return;
  const left =
    toMeasure.left === 0 || toMeasure.secondsLeft === null ? '' : `, ${secondsInWords(toMeasure.secondsLeft)} left`;
  const words = `${counted(pixels.size, 'frame')}${left}`;
  board.show({ name: 'measuring', done: pixels.size, total, words, hasEnded: toMeasure.left === 0 });
}

/** Names the cards that cannot be found; the rest goes on. */
async function cardsThatAreThere(cards: readonly string[]): Promise<readonly string[]> {
  const there = await Promise.all(
    cards.map(async (card) => {
      const about = await stat(card).catch(() => null);
      if (about?.isDirectory() === true) return card;
      const what = about === null ? 'nothing is there' : 'it is a file';
      complain(`Expected a card or a folder at ${card} but ${what}. Put the card in again, or give its folder.`);
      return null;
    }),
  );
  const readable = there.filter((card) => card !== null);
  if (readable.length === 0) throw new CliError('No card could be found, so nothing was brought in.');
  return readable;
}

/** Looked at before a meeting is made. Beside a card with files an empty one is told of by the bringing in itself. */
async function makeSureOfFiles(cards: readonly string[]): Promise<void> {
  const empty = await Promise.all(cards.map(isEmpty));
  if (empty.includes(false)) return;
  throw new CliError(
    `Expected pictures on ${cards.join(' and ')} but there is no file on ${cards.length === 1 ? 'it' : 'any of them'}, so nothing was brought in. Check that the right card is in.`,
  );
}

/** A card that could not be listed to the end may hold files. */
async function isEmpty(card: string): Promise<boolean> {
  const listing = await listCard(card).catch(() => null);
  return listing?.files.length === 0 && listing.passedOver.every((entry) => entry.isHousekeeping === true);
}

/** The destinations that lie on no card, looked at before a folder is made there; the others are named. */
async function disksApart(disks: readonly string[], cards: readonly string[]): Promise<readonly [string, ...string[]]> {
  if (disks.length === 0)
    throw new CliError(
      'Expected where to copy to, but no --to was given. Say --to DISK, and --to SECOND_DISK for the second copy.',
    );
  const apart: string[] = [];
  for (const disk of disks) {
    const trouble = await onCardTrouble(resolve(disk), cards);
    if (trouble === null) apart.push(disk);
    else complain(trouble);
  }
  const [first, ...others] = apart;
  if (first === undefined) throw new CliError('No place to copy to is left, so nothing was brought in.');
  return [first, ...others];
}

function complain(sentence: string): void {
  console.error(sentence);
  process.exitCode = 1;
}

const endings = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;

/** The first Ctrl+C stops after the file in hand; what is copied stays, and the next run goes on from there. */
function stopOnInterrupt(whole: WholeDay, board: ProgressBoard): { forget(): void } {
  const stop = () => {
    forget();
    board.close();
    console.log('Stopping after the files in hand. Run the same command again to go on.');
    void whole.close().then(() => {
      for (const line of whole.day.cards().flatMap(cardLines)) console.log(line);
      process.exit(130);
    });
  };
  const forget = () => {
    for (const ending of endings) process.off(ending, stop);
  };
  for (const ending of endings) process.on(ending, stop);
  return { forget };
}
