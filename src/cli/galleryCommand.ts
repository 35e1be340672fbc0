/** `tyrewall gallery <meeting>`: the same gallery as the desk makes, laid into any folder; with cards to print that lead to it. */
import { mkdir, writeFile } from 'node:fs/promises';
import { dirname } from 'node:path';
import { LANGUAGES } from '../gallery/index.js';
import { meaningOf } from '../host/bringin/index.js';
import { findCardsPdf } from '../host/gallery/cards/findCards.js';
import { type GalleryReport, layOut } from '../host/gallery/index.js';
import { rememberLaid } from '../host/law/index.js';
import { amendAbout, readAbout } from '../host/meeting/about.js';
import type { MeetingAbout } from '../host/meeting/types.js';
import { CliError } from './cliError.js';
import { makeWholeGallery } from './handOver.js';
import { refuseQuietSuccess, showing } from './handOverCommands.js';
import { layOffer, tellService } from './layOffer.js';
import { openWholeDay, type WholeDay } from './openWholeDay.js';
import { counted, onOneLine } from './words.js';

export interface GalleryWish {
  /** The gallery's folder, to be put on a web server. */
  readonly out?: string;
  /** Address of the order service. */
  readonly shop?: string;
  /** Address of the gallery. */
  readonly site?: string;
  readonly first?: boolean;
  readonly language?: string;
  /** Where riders reach the photographer: for takedowns, and named in the privacy notice. */
  readonly contact?: string;
  readonly names?: boolean;
  /** Where cards to print go. */
  readonly cards?: string;
  readonly stateRoot?: string;
}

type Say = (line: string) => void;

/** Addresses, language and names are the meeting's from then on, so that the desk makes the same gallery. */
export async function galleryCommand(folder: string, wish: GalleryWish, say: Say = console.log): Promise<void> {
  const said = saidOf(wish);
  const whole = await openWholeDay(folder, wish.stateRoot === undefined ? {} : { stateRoot: wish.stateRoot });
  try {
    if (Object.keys(said).length > 0) await amendAbout(folder, said);
    if (wish.out !== undefined) await rememberLaid(whole.meeting.stateFolder, 'gallery', wish.out);
    if (wish.first) await firstOnly(whole, wish, say);
    const made = await showing('gallery', (report) => makeWholeGallery(whole, report));
    say(made.sentence);
    await laidOut(made.report, folder, wish, say);
    const laid = await layOffer(whole, made.report);
    if (laid !== null) say(await tellService(laid));
    if (wish.cards !== undefined) await printCards(folder, wish.cards, say);
    refuseQuietSuccess(made.refused);
  } finally {
    await whole.close();
  }
}

function saidOf({ shop, site, language, contact, names }: GalleryWish): Partial<MeetingAbout> {
  return {
    ...(shop === undefined ? {} : { ordersAddress: addressOf(shop, '--shop') }),
    ...(site === undefined ? {} : { galleryAddress: addressOf(site, '--site') }),
    ...(language === undefined ? {} : { galleryLanguage: languageOf(language) }),
    ...(contact === undefined ? {} : { contact: contactOf(contact) }),
    ...(names === undefined ? {} : { mayBeNamed: names }),
  };
}

function addressOf(typed: string, option: string): string {
  const url = URL.canParse(typed) ? new URL(typed) : null;
  if (url !== null && /^https?:$/.test(url.protocol) && url.search + url.hash === '') return url.href;
  throw new CliError(
    `Expected a web address after ${option} but got ${onOneLine(typed)}. Say for instance https://pictures.example/spring-day/.`,
  );
}

function contactOf(typed: string): string {
  const contact = typed.trim();
  if (contact !== '' && contact.length <= 200) return contact;
  throw new CliError(
    `Expected where riders reach you after --contact, in at most 200 letters, but got ${contact.length}. Say for instance pictures@example.org.`,
  );
}

function languageOf(typed: string): string {
  if ((LANGUAGES as readonly string[]).includes(typed)) return typed;
  throw new CliError(
    `Expected one of ${LANGUAGES.join(', ')} after --language but got ${onOneLine(typed)}. The others are made all the same.`,
  );
}

/** Where a gallery stands already there is nothing to be gained. */
async function firstOnly(whole: WholeDay, wish: GalleryWish, say: Say): Promise<void> {
  const made = await showing('one picture of each', (report) => makeWholeGallery(whole, report, { isFirst: true }));
  if (made.report === null) return say(made.sentence);
  say(made.sentence);
  await laidOut(made.report, whole.meeting.folder, wish, say);
}

async function laidOut(report: GalleryReport | null, folder: string, { out }: GalleryWish, say: Say): Promise<void> {
  if (out === undefined || report === null || report.wasStopped) return;
  const { written, removed } = await layOut(report.folder, folder, out);
  const gone = removed === 0 ? '' : `, ${counted(removed, 'file')} taken away`;
  say(`${out}: ${counted(written, 'file')} new or changed${gone}. Put it on any web server.`);
}

async function printCards(folder: string, file: string, say: Say): Promise<void> {
  const about = await readAbout(folder);
  if (about.galleryAddress === undefined)
    throw new CliError('Expected the address of the gallery for its cards, but none was said yet. Say --site with it.');
  const paper = await findCardsPdf(about.galleryAddress, cardWords(about), new Date());
  await writePaper(file, paper.pdf);
  say(`${file}: four cards on A4, to be cut.`);
}

export async function writePaper(file: string, pdf: Uint8Array): Promise<void> {
  try {
    await mkdir(dirname(file), { recursive: true });
    await writeFile(file, pdf);
  } catch (problem) {
    throw new CliError(`Expected to write ${file} but ${meaningOf(problem)}. Give another place.`);
  }
}

const DAY: Intl.DateTimeFormatOptions = { weekday: 'long', day: 'numeric', month: 'long', year: 'numeric' };

export function cardWords({ name, firstDay, lastDay, credit, creator }: MeetingAbout) {
  const dayOf = (day: string) =>
    new Intl.DateTimeFormat('en-GB', { timeZone: 'UTC', ...DAY }).format(new Date(`${day}T00:00:00Z`)).replace(',', '');
  return {
    title: name,
    day: firstDay === lastDay ? dayOf(firstDay) : `${dayOf(firstDay)} to ${dayOf(lastDay)}`,
    credit: credit ?? creator ?? null,
  };
}
