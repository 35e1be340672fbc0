/** Which day's meeting cards belong to, when nobody says: what the cameras wrote, before what the card's file system says. */
import { basename, join } from 'node:path';
import { isDcfPath } from '../core/bringin/dcf.js';
import type { CardFile } from '../core/bringin/types.js';
import type { FileId } from '../core/ids.js';
import { listCard } from '../host/bringin/index.js';
import { readMetadata } from '../host/metadata/index.js';
import { CliError } from './cliError.js';
import { dayOf, onOneLine } from './words.js';

export interface DayOfCards {
  /** `YYYY-MM-DD`. */
  readonly day: string;
  /** Where it comes from, for the person who may know better; null where a person said it. */
  readonly sentence: string | null;
}

/** A picture may be damaged or say nothing of its time; then the next one down is asked. */
const picturesAsked = 5;
const correct = 'Say --day YYYY-MM-DD if it is another.';

export function saidDay(text: string): DayOfCards {
  const isDay = /^\d{4}-\d{2}-\d{2}$/.test(text) && new Date(`${text}T00:00:00Z`).toJSON()?.startsWith(text) === true;
  if (!isDay) throw new CliError(`Expected a day like 2031-05-17 after --day but got ${JSON.stringify(text)}.`);
  return { day: text, sentence: null };
}

/** The newest day that any card's newest readable picture was taken on. */
export async function dayOfCards(cards: readonly string[]): Promise<DayOfCards> {
  const listed = await Promise.all(cards.map(newestFirst));
  const taken = (await Promise.all(listed.map(capturedDay))).filter((one) => one !== null);
  const newest = taken.sort((a, b) => (a.day < b.day ? 1 : -1))[0];
  if (newest !== undefined) {
    const from = onOneLine(basename(newest.path));
    return { day: newest.day, sentence: `Day ${newest.day}: guessed from the capture time in ${from}. ${correct}` };
  }
  return dayOfFiles(listed.flatMap((one) => one.files));
}

function dayOfFiles(files: readonly CardFile[]): DayOfCards {
  const newest = files.reduce<CardFile | null>((a, b) => (a === null || b.modified > a.modified ? b : a), null);
  // A card's clock knows no zone and is listed as if it stood in this machine's.
  const local = new Date(newest?.modified ?? Date.now());
  const day = dayOf(local.getTime() - local.getTimezoneOffset() * 60_000);
  const from = newest === null ? 'today' : `when ${onOneLine(basename(newest.path))} was last written`;
  return { day, sentence: `Day ${day}: guessed from ${from}, for no picture tells its capture time. ${correct}` };
}

interface Listed {
  readonly card: string;
  readonly files: readonly CardFile[];
}

async function newestFirst(card: string): Promise<Listed> {
  const listing = await listCard(card).catch(() => null);
  return { card, files: [...(listing?.files ?? [])].sort((a, b) => b.modified - a.modified) };
}

async function capturedDay({ card, files }: Listed): Promise<{ readonly day: string; readonly path: string } | null> {
  const pictures = files.filter((file) => file.bytes > 0 && isPicture(file.path)).slice(0, picturesAsked);
  for (const { path } of pictures) {
    const metadata = await readMetadata(join(card, path), '' as FileId).catch(() => null);
    if (metadata?.captured.kind !== 'recorded') continue;
    return { day: metadata.captured.text.slice(0, 10).replaceAll(':', '-'), path };
  }
  return null;
}

const isPicture = (path: string): boolean => isDcfPath(path) || /\.jpe?g$/i.test(path);
