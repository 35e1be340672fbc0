/**
 * The set as a folder to be sent or shared: finals without a mark, numbered; contact sheet, captions, terms, and what the share page is
 * told. Made again it is the same; pictures that left the set are removed. Rules OG6, OG7, OG10–OG13.
 */
import { copyFile, mkdir, readdir, rename, rm, stat } from 'node:fs/promises';
import { basename, join, resolve } from 'node:path';
import { namesOf } from '../../core/finish/index.js';
import { LAW_LANGUAGES } from '../../core/handover/law/index.js';
import {
  type CaptionLine,
  captionsOf,
  type HandedSet,
  OrganiserError,
  type SetPicture,
  termsFor,
  termsIn,
  termsText,
} from '../../core/handover/organiser/index.js';
import type { FrameId, RiderKey } from '../../core/ids.js';
import type { Cell } from '../../core/review/takings/index.js';
import type { EpochMs, WallMs } from '../../core/units.js';
import type { DayState } from '../day/types.js';
import { type FinishOptions, makeFinals, removeUnfinished, UNFINISHED, writeAtomically } from '../finish/index.js';
import { contactSheet } from './contactSheet.js';
import { csvText } from './csvText.js';
import { keepHanded } from './handed.js';
import { organiserNames } from './organiserOfDay.js';
import { laySmall } from './small.js';

/** Large enough for a page of a magazine, small enough to be sent from the paddock. */
export const USUAL_EDGE_PX = 3000;

export interface HandWish extends Pick<FinishOptions, 'originalOf' | 'onProgress' | 'signal' | 'atOnce'> {
  readonly is: HandedSet['is'];
  /** Absolute; outside the meeting, or in its `made/`. */
  readonly out: string;
  readonly meetingFolder: string;
  readonly longEdgePx?: number | null;
  readonly contact?: string;
  /** Who rides under a number; null for nobody. */
  readonly nameOf: (group: string | null, number: string) => string | null;
  /** For the page of the order service; absent: there is none. */
  readonly share?: ShareWish;
  readonly now: { readonly at: EpochMs; readonly wall: WallMs };
}

export interface ShareWish {
  /** 32 hex digits that nobody can guess. */
  readonly id: string;
  /** argon2id, as the service keeps passwords. */
  readonly passwordHash: string;
  readonly expiresAt: EpochMs | null;
}

export interface HandReport {
  readonly folder: string;
  readonly pictures: number;
  readonly made: number;
  readonly failed: readonly string[];
  readonly wasStopped: boolean;
}

type State = Pick<
  DayState,
  'about' | 'log' | 'timetable' | 'fills' | 'arrangement' | 'keepers' | 'pixels' | 'metadata'
>;

export const PICTURES_FOLDER = 'pictures';

export async function handToOrganiser(state: State, set: readonly SetPicture[], wish: HandWish): Promise<HandReport> {
  refuseOthersFolder(wish);
  const made = await finalsOf(state, set, wish);
  const failed = made.failed.map(({ sentence }) => sentence);
  const report = {
    folder: wish.out,
    pictures: made.pictures.length,
    made: made.made,
    failed,
    wasStopped: made.wasStopped,
  };
  if (made.wasStopped || made.pictures.length === 0) return report;
  const pathOf = new Map([...made.pictures].reverse().map(({ frameId, path }) => [frameId, path]));
  const shown = set.filter(({ frameId }) => pathOf.has(frameId));
  const lines = linesOf(state, shown, wish);
  await layPictures(shown, lines, pathOf, wish.out);
  await layPapers(state, lines, wish);
  const pictures = lines.map(({ number, file }, i) => ({ number, file, frameId: shown[i]!.frameId }));
  await keepHanded(wish.meetingFolder, { ...wish.now, is: wish.is, pictures });
  return report;
}

/** The pictures of the cards, the log and what is known of people lie in the meeting's folder: nothing of ours goes among them. */
function refuseOthersFolder({ out, meetingFolder }: HandWish): void {
  const [to, meeting] = [resolve(out), resolve(meetingFolder)];
  if (to !== meeting && !to.startsWith(join(meeting, '/'))) return;
  if (to.startsWith(join(meeting, 'made', '/'))) return;
  const sentence = `Expected a folder for the organiser's pictures outside the meeting, or within its made/, but got ${to}. Say another after --out.`;
  throw new OrganiserError(sentence, to);
}

async function finalsOf(state: State, set: readonly SetPicture[], wish: HandWish) {
  const { about } = state;
  const folder = join(wish.meetingFolder, 'made', 'organiser', 'finals');
  await mkdir(folder, { recursive: true });
  await removeUnfinished(folder);
  const { short } = termsFor({ ...termsInput(state, wish), pictures: set.length });
  // A person looked at the list and asked for these, whether they stand among a rider's keepers or not.
  const asked = set.map(({ frameId }) => ({
    rider: 'organiser' as RiderKey,
    bike: { frameId, subject: 0 },
    reasons: [],
    worth: 0,
    source: 'kept-by-person' as const,
  }));
  const keepers = { ...state.keepers, byRider: new Map([['organiser' as RiderKey, asked]]) };
  return makeFinals(
    { ...state, about: { ...about, finalUsageTerms: short }, keepers },
    {
      meetingFolder: wish.meetingFolder,
      folder,
      longEdgePx: wish.longEdgePx === undefined ? (about.organiser?.longEdgePx ?? USUAL_EDGE_PX) : wish.longEdgePx,
      only: new Set(set.map(({ frameId }) => frameId)),
      ...(wish.contact === undefined ? {} : { publishing: { contact: wish.contact } }),
      ...(wish.originalOf === undefined ? {} : { originalOf: wish.originalOf }),
      ...(wish.onProgress === undefined ? {} : { onProgress: wish.onProgress }),
      ...(wish.signal === undefined ? {} : { signal: wish.signal }),
      ...(wish.atOnce === undefined ? {} : { atOnce: wish.atOnce }),
    },
  );
}

const termsInput = ({ about }: State, { contact }: HandWish) => ({
  agreed: about.organiser ?? {},
  meeting: about.name,
  credit: about.credit ?? about.creator ?? about.name,
  contact: contact ?? about.contact ?? null,
});

function linesOf(state: State, shown: readonly SetPicture[], { nameOf }: HandWish): readonly CaptionLine[] {
  const names = namesOf(state.arrangement.exposures);
  const numbers = new Map(shown.map(({ frameId, number }) => [frameId, String(number).padStart(2, '0')]));
  return captionsOf({
    pictures: shown,
    arrangement: state.arrangement,
    meeting: state.about.name,
    fileOf: (frame) => `${numbers.get(frame)}-${names.get(frame)}.jpg`,
    nameOf,
    ...organiserNames(state),
  });
}

/** Our own names only: what else lies there is somebody's. */
const OURS = /^\d{2,4}-(?:\d{8}-\d{6}|undated)-[a-z0-9-]+\.jpg$/;

async function layPictures(
  shown: readonly SetPicture[],
  lines: readonly CaptionLine[],
  pathOf: ReadonlyMap<FrameId, string>,
  out: string,
): Promise<void> {
  const folder = join(out, PICTURES_FOLDER);
  await mkdir(folder, { recursive: true });
  await removeUnfinished(folder);
  const wanted = new Set(lines.map(({ file }) => file));
  for (const name of await readdir(folder)) if (OURS.test(name) && !wanted.has(name)) await rm(join(folder, name));
  for (const [i, { file }] of lines.entries()) await layOne(pathOf.get(shown[i]!.frameId)!, join(folder, file));
}

async function layOne(from: string, to: string): Promise<void> {
  const [there, source] = await Promise.all([stat(to).catch(() => null), stat(from)]);
  if (there !== null && there.size === source.size && there.mtimeMs >= source.mtimeMs) return;
  const temporary = join(to, '..', `${UNFINISHED}${basename(to)}`);
  await copyFile(from, temporary);
  await rename(temporary, to);
}

const HEADER = [
  'no',
  'file',
  'date',
  'time',
  'session',
  'class',
  'spot',
  'what',
  'race numbers',
  'names',
  'caption',
  'guesses',
];

async function layPapers(state: State, lines: readonly CaptionLine[], wish: HandWish): Promise<void> {
  const { about } = state;
  const input = { ...termsInput(state, wish), pictures: lines.length };
  const title = `${about.name}: pictures for ${about.organiser?.name ?? 'the organiser'}`;
  const sheet = await contactSheet(
    lines.map((line) => ({ line, path: join(wish.out, PICTURES_FOLDER, line.file) })),
    { title, note: termsFor(input).short, madeAt: new Date(wish.now.at) },
  );
  await writeAtomically(join(wish.out, 'contact-sheet.pdf'), sheet.pdf);
  await writeAtomically(join(wish.out, 'captions.csv'), csvText(HEADER, lines.map(cellsOf)));
  await writeAtomically(join(wish.out, 'terms.txt'), termsText(input));
  if (wish.share === undefined) return;
  await laySmall(
    join(wish.out, PICTURES_FOLDER),
    join(wish.out, 'small'),
    lines.map(({ file }) => file),
  );
  await writeAtomically(join(wish.out, 'share.json'), shareOf(title, input, lines, wish.share));
}

const cellsOf = (line: CaptionLine): readonly Cell[] => {
  const { number, file, date, time, session, class: of, spot, what, numbers, names, caption, guesses } = line;
  const texts = [file, date, time, session, of, spot, what, numbers, names, caption, guesses];
  return [{ number: String(number) }, ...texts.map((text) => ({ text }))];
};

/** For the order service's page: what it shows, and who may see it. */
function shareOf(
  title: string,
  input: Parameters<typeof termsFor>[0],
  lines: readonly CaptionLine[],
  { id, passwordHash, expiresAt }: ShareWish,
): string {
  const others = LAW_LANGUAGES.filter((one) => one !== 'en').map((one) => [one, termsIn(one, input)] as const);
  const pictures = lines.map(({ number, file, caption }) => ({ number, file, caption }));
  return `${JSON.stringify({ v: 1, id, title, passwordHash, expiresAt, terms: termsIn('en', input), translations: Object.fromEntries(others), pictures }, null, 2)}\n`;
}
