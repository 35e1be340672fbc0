/** Which day's meeting cards belong to, when nobody says: what the cameras wrote, before what the card's file system says. */
import { basename, join } from 'node:path';
import { isDcfPath } from '../core/bringin/dcf.js';
import type { CardFile } from '../core/bringin/types.js';
import type { FileId } from '../core/ids.js';
import { listCard } from '../host/bringin/index.js';
import { readMetadata } from '../host/metadata/index.js';
import { CliError } from './cliError.js';
import { dayOf, onOneLine } from './words.js';

/** `YYYY-MM-DD`; of a meeting of one day both are the same. */
export interface Days {
  readonly firstDay: string;
  readonly lastDay: string;
}

export interface DaysOfCards extends Days {
  /** Where they come from, for the person who may know better; null where a person said them. */
  readonly sentence: string | null;
}

/** A picture may be damaged or say nothing of its time; then the next one down is asked. */
const picturesAsked = 5;
const correct = 'Say --day YYYY-MM-DD if it is another.';

export function saidDays(text: string): DaysOfCards {
  const [firstDay = '', end = firstDay, ...more] = text.split(/\/|\.\./);
  // As in ISO 8601 what the end has in common with the start may be left out: 2031-05-17/18.
  const lastDay = firstDay.slice(0, Math.max(0, firstDay.length - end.length)) + end;
  if (more.length === 0 && isEnd.test(end) && isDay(firstDay) && isDay(lastDay) && firstDay <= lastDay)
    return { firstDay, lastDay, sentence: null };
  throw new CliError(
    `Expected a day like 2031-05-17 after --day, or the first and the last like 2031-05-17..18, but got ${JSON.stringify(text)}.`,
  );
}

const isEnd = /^(?:(?:\d{4}-)?\d{2}-)?\d{2}$/;
const isDay = (text: string): boolean =>
  /^\d{4}-\d{2}-\d{2}$/.test(text) && new Date(`${text}T00:00:00Z`).toJSON()?.startsWith(text) === true;

/**
 * From the newest day that a picture on any card was taken on back to the earliest that follows on without a gap; other
 * days on the cards are said: they are likelier left from another meeting.
 */
export async function daysOfCards(cards: readonly string[]): Promise<DaysOfCards> {
  const listed = await Promise.all(cards.map(newestFirst));
  const taken = (await Promise.all(listed.map(capturedDays))).flat().sort((a, b) => (a.day < b.day ? 1 : -1));
  const [newest] = taken;
  if (newest === undefined) return dayOfFiles(listed.flatMap((one) => one.files));
  const earliest = taken.reduce((first, one) => (apart(one.day, first.day) <= furthestApart ? one : first), newest);
  const [firstDay, lastDay] = [earliest.day, newest.day];
  const others = [...new Set(taken.map(({ day }) => day))].filter((day) => day < firstDay).sort();
  const words = [guessedDays(earliest, newest), others.length === 0 ? null : otherDays(others, lastDay)];
  return { firstDay, lastDay, sentence: words.filter((one) => one !== null).join(' ') };
}

/** Of a meeting of three days copied to a disk, the first and the last name may be all that is asked. */
const furthestApart = 2;
const apart = (a: string, b: string): number => Math.abs(Date.parse(a) - Date.parse(b)) / 86_400_000;

function guessedDays(earliest: Taken, newest: Taken): string {
  const nameOf = ({ path }: Taken): string => onOneLine(basename(path));
  if (earliest.day === newest.day)
    return `Day ${newest.day}: guessed from the capture time in ${nameOf(newest)}. ${correct}`;
  return `Days ${earliest.day} to ${newest.day}: guessed from the capture times in ${nameOf(earliest)} and ${nameOf(newest)}. Say --day ${newest.day} if the meeting was that day alone.`;
}

/** The cards are brought in whole, whatever the day. */
function otherDays(others: readonly string[], lastDay: string): string {
  const [first] = others;
  return `Pictures of ${others.join(', ')} are on the cards too and come in with the rest. Say --day ${first} if the meeting was then, or --day ${first}..${lastDay} if it lasted all these days.`;
}

function dayOfFiles(files: readonly CardFile[]): DaysOfCards {
  const newest = files.reduce<CardFile | null>((a, b) => (a === null || b.modified > a.modified ? b : a), null);
  // A card's clock knows no zone and is listed as if it stood in this machine's.
  const local = new Date(newest?.modified ?? Date.now());
  const day = dayOf(local.getTime() - local.getTimezoneOffset() * 60_000);
  const from = newest === null ? 'today' : `when ${onOneLine(basename(newest.path))} was last written`;
  const sentence = `Day ${day}: guessed from ${from}, for no picture tells its capture time. ${correct}`;
  return { firstDay: day, lastDay: day, sentence };
}

interface Listed {
  readonly card: string;
  readonly files: readonly CardFile[];
}

async function newestFirst(card: string): Promise<Listed> {
  const listing = await listCard(card).catch(() => null);
  return { card, files: [...(listing?.files ?? [])].sort((a, b) => b.modified - a.modified) };
}

interface Taken {
  readonly day: string;
  readonly path: string;
}

/** One picture of each day on which the card was written to tells enough: reading thousands would hold up the copying. */
async function capturedDays({ card, files }: Listed): Promise<readonly Taken[]> {
  const pictures = files.filter((file) => file.bytes > 0 && isPicture(file.path));
  const byName = pictures.toSorted((a, b) => (a.path < b.path ? -1 : 1));
  const written = new Map<string, CardFile[]>();
  for (const file of pictures) {
    const day = dayOf(file.modified);
    written.set(day, [...(written.get(day) ?? []), file].slice(0, picturesAsked));
  }
  // Copied to a disk, all files were written on one day: then the first and the last name are asked too.
  const asked = [...written.values(), byName.slice(0, 1), byName.slice(-1)];
  const taken = await Promise.all(asked.map((some) => firstThatTells(card, some)));
  return taken.filter((one) => one !== null);
}

async function firstThatTells(card: string, pictures: readonly CardFile[]): Promise<Taken | null> {
  for (const { path } of pictures) {
    const metadata = await readMetadata(join(card, path), '' as FileId).catch(() => null);
    if (metadata?.captured.kind !== 'recorded') continue;
    return { day: metadata.captured.text.slice(0, 10).replaceAll(':', '-'), path };
  }
  return null;
}

const isPicture = (path: string): boolean => isDcfPath(path) || /\.jpe?g$/i.test(path);
