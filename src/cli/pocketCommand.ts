/** `tyrewall pocket <meeting>`: the day for the phone, as a code in the terminal or as a file; and the page's files to host. */
import { mkdir, writeFile } from 'node:fs/promises';
import { dirname } from 'node:path';
import { qrRuns } from '../core/measure/cards/index.js';
import { codeOfDay, type PocketDay } from '../core/plan/pocket/index.js';
import { meaningOf } from '../host/bringin/index.js';
import { stateRootOf } from '../host/meeting/stateFolder.js';
import { officePathOf, openOffice } from '../host/office/officeFile.js';
import {
  carryDay,
  dayToCarry,
  hostedAddress,
  mintWatched,
  noteGiven,
  pocketFile,
  ridersToMint,
  withCrops,
  withMinted,
  writePocketFolder,
  zlibSqueezer,
} from '../host/pocket/index.js';
import { CliError } from './cliError.js';
import { openWholeDay } from './openWholeDay.js';
import { type MeetingWish, sayDecisions } from './sayDecisions.js';
import { type DayWish, openDayOf } from './sheetDay.js';
import { terminalQr } from './terminalQr.js';
import { bytesInWords, counted, onOneLine } from './words.js';

export interface PocketWish extends DayWish {
  /** Where the page is hosted; else what stands among the papers. */
  readonly address?: string;
  /** One HTML file with the page and the day in it. */
  readonly file?: string;
  /** The day alone, for the hosted page to open. */
  readonly code?: string;
  /** Folder for the page's static files. */
  readonly out?: string;
}

type Say = (line: string) => void;

export async function pocketCommand(folder: string, wish: PocketWish, say: Say = console.log): Promise<void> {
  if (wish.out !== undefined) say(await writePocketFolder(wish.out));
  const hasFiles = wish.file !== undefined || wish.code !== undefined;
  if (wish.out !== undefined && !hasFiles && wish.address === undefined) return;
  const address = hasFiles ? null : await addressFor(folder, wish);
  const day = await dayFor(folder, wish, say);
  if (address === null) await writeFiles(folder, wish, day, say);
  else for (const line of await codeLines(folder, day, address)) say(line);
}

const stateOf = ({ stateRoot }: MeetingWish): MeetingWish => (stateRoot === undefined ? {} : { stateRoot });

/** Riders on the watch get their names first: a tap beside the track names them by it. */
async function dayFor(folder: string, wish: PocketWish, say: Say): Promise<PocketDay> {
  const { state, known, wish: asked } = await openDayOf(folder, wish);
  const minted = mintWatched(state, ridersToMint(known, asked));
  if (minted.length > 0) await sayDecisions(folder, stateOf(wish), minted);
  const { day, warnings } = dayToCarry(withMinted(known, minted), asked);
  for (const warning of warnings) say(`! ${onOneLine(warning)}`);
  say(`${counted(day.stays.length, 'stay')}, ${counted(day.watch.length, 'rider')} to look for.`);
  return day;
}

async function addressFor(folder: string, wish: PocketWish): Promise<string> {
  const hosted = hostedAddress(wish.address ?? (await keptAddress(folder, wish)) ?? '');
  if (hosted.kind === 'address') return hosted.address;
  throw new CliError(
    `${hosted.sentence} Say --address, write a line “pocket page https://…” among your papers, or take --file.`,
  );
}

async function keptAddress(folder: string, wish: PocketWish): Promise<string | undefined> {
  const whole = await openWholeDay(folder, { isForLooking: true, ...stateOf(wish) });
  const root = stateRootOf(whole.meeting.stateFolder);
  await whole.close();
  return (await openOffice(officePathOf(root)).read()).own.pocketPage;
}

async function writeFiles(folder: string, wish: PocketWish, day: PocketDay, say: Say): Promise<void> {
  const whole = await openWholeDay(folder, { isForLooking: true, ...stateOf(wish) });
  const withPictures = await withCrops(day, whole.day).finally(() => whole.close());
  const { code, check } = await codeOfDay(withPictures, zlibSqueezer);
  await noteGiven(folder, check, new Date());
  if (wish.file !== undefined)
    await write(
      wish.file,
      await pocketFile(withPictures),
      'the page with the day in it, for a phone without a signal',
      say,
    );
  if (wish.code === undefined) return;
  await write(wish.code, `tyrewall#${code}\n`, 'the day, for the hosted page to open', say);
}

async function write(path: string, content: string, what: string, say: Say): Promise<void> {
  try {
    await mkdir(dirname(path), { recursive: true });
    await writeFile(path, content);
  } catch (problem) {
    throw new CliError(`Expected to write ${path} but ${meaningOf(problem)}. Give another place.`);
  }
  say(`${path}: ${what}, ${bytesInWords(Buffer.byteLength(content))}.`);
}

async function codeLines(folder: string, day: PocketDay, address: string): Promise<readonly string[]> {
  const carried = await carryDay(day, address);
  if (carried.kind === 'file-only') throw new CliError(`${carried.sentence} Say --file and where it goes.`);
  await noteGiven(folder, carried.check, new Date());
  const left =
    carried.leftOut.length === 0 ? [] : [`Left out, for one code holds no more: ${carried.leftOut.join('; ')}.`];
  return [...left, ...terminalQr(qrRuns(carried.text, 'L')!), carried.text];
}
