/**
 * The public gallery of a meeting as plain files for any web server, in `made/gallery/<edition>/`. Made twice it is
 * the same; stopped it goes on; what was taken down is gone first. Rules HO1–HO10 in docs/rules/handover.md.
 */
import { mkdir, readFile, rm } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { takedownsOf } from '../../core/finish/index.js';
import { knownOfRiders, ownSetsOf, type PeopleKnown } from '../../core/handover/find/index.js';
import { type Gallery, type GalleryPicture, type PublicIdOf, planGallery } from '../../core/handover/index.js';
import { firstOf } from '../../core/handover/putUp/index.js';
import type { FrameId } from '../../core/ids.js';
import type { Decision, FoldedLog } from '../../core/log/types.js';
import {
  faceFiles,
  findFilesOf,
  LANGUAGES,
  type Language,
  ownPagesOf,
  type Page,
  type PictureFile,
  pagesOf,
  type Style,
  smallFiles,
} from '../../gallery/index.js';
import type { DayState } from '../day/types.js';
import {
  allEnded,
  type MadePicture,
  makeProofs,
  type ProofsReport,
  type PublishingWords,
  removeUnfinished,
  writeAtomically,
} from '../finish/index.js';
import { type Cutter, startCutter } from './cutter.js';
import { removeEndedLinks } from './endedLinks.js';
import { writeFirstPages } from './firstPages.js';
import { GalleryError } from './galleryError.js';
import { type CutOf, copyProof, faceOf, smallOf } from './images.js';
import { copyLook, readStyle } from './look.js';
import { isOwnFile } from './ownFiles.js';
import { type GalleryProgress, type GalleryScale, galleryScale } from './progress.js';
import { ImageRecord } from './record.js';
import { mintWith, publicIdsOf } from './secret.js';
import { filesIn, takeDownEverywhere } from './takeDown.js';
import { withBestOnly } from './withBestOnly.js';

export interface MakeGalleryOptions {
  readonly state: Pick<DayState, 'about' | 'fills' | 'arrangement' | 'keepers' | 'log' | 'pixels' | 'timetable'>;
  readonly meetingFolder: string;
  /** From `meetingSecret`. */
  readonly secret: string;
  /** Name of the folder; by default the meeting's first day. The same edition again keeps its addresses. */
  readonly edition?: string;
  readonly publishing?: PublishingWords;
  /** The photographer's own, at the gallery's root; English where none is said. */
  readonly language?: Language;
  /** One best picture of each rider alone: what can stand before the rest is made. */
  readonly onlyBest?: boolean;
  /** Where the gallery is to be found, for the codes on private pages. */
  readonly address?: string;
  /** Whom riders may be looked for as; without it neither by name nor by number card. */
  readonly people?: PeopleKnown;
  /** Address of the order service, for what cannot be files; without one, riders write to the contact. */
  readonly shop?: string;
  readonly originalOf?: (frame: FrameId) => string | null;
  readonly onProgress?: (progress: GalleryProgress) => void;
  readonly signal?: AbortSignal;
}

export interface GalleryReport {
  /** To be put on a web server as it is. */
  readonly folder: string;
  readonly index: string;
  readonly edition: string;
  readonly gallery: Gallery;
  readonly riders: number;
  readonly pictures: number;
  readonly pages: number;
  /** Picture files made in this run; the others stood already. */
  readonly picturesMade: number;
  /** Files removed: no longer shown, or taken down. */
  readonly removed: number;
  readonly failed: ProofsReport['failed'];
  readonly wasStopped: boolean;
  /** To be appended to the log as one gesture, now that the gallery stands; empty when nothing is new. */
  readonly decisions: readonly Decision[];
}

export async function makeGallery(wish: MakeGalleryOptions): Promise<GalleryReport> {
  const options = wish.onlyBest ? { ...wish, state: withBestOnly(wish.state), keepOthers: true } : wish;
  const { state } = options;
  const tell = galleryScale(options.onProgress);
  const place = placeOf(options);
  const publicIdOf = publicIdsOf(options.secret);
  await refuseAnotherSecret(place, state.log, publicIdOf);
  const takedowns = takedownsOf(state.arrangement, state.log);
  const takenDown =
    (await takeDownEverywhere(place.galleries, takedowns, publicIdOf)) +
    (await removeEndedLinks(place.galleries, state.log, takedowns, publicIdOf));
  const proofs = await makeProofs(state, {
    ...options,
    onProgress: ({ done, total, made }) => tell('proofs', done, total, made),
  });
  const plan = planGallery({
    ...state,
    edition: place.edition,
    contact: options.publishing?.contact ?? null,
    proofs: new Map([...proofs.proofs].map(([frame, { widthPx, heightPx }]) => [frame, { widthPx, heightPx }])),
    publicIdOf,
    mint: mintWith(options.secret),
  });
  await openFolders(place.folder, options.language ?? 'en');
  const images = await makeImages(plan.gallery, proofs.proofs, place, tell, options.signal);
  const counts = {
    folder: place.folder,
    index: join(place.folder, 'index.html'),
    edition: place.edition,
    gallery: plan.gallery,
    ...countsOf(plan.gallery),
  };
  if (proofs.wasStopped || images.wasStopped) {
    return {
      ...counts,
      pages: 0,
      picturesMade: images.made,
      removed: takenDown,
      failed: proofs.failed,
      wasStopped: true,
      decisions: [],
    };
  }
  const style = await readStyle();
  const { pages, data } = filesOf(plan.gallery, options, publicIdOf, style);
  for (const [path, text] of data) await writeIfChanged(join(place.folder, path), text);
  if (!wish.onlyBest) {
    const first = filesOf(firstOf(plan.gallery), options, publicIdOf, style).pages;
    await writeFirstPages(first, options.meetingFolder, place.edition, writeIfChanged);
  }
  await writePages(pages, place.folder, tell);
  const removed = takenDown + (await removeOthers(place.folder, pages, [...images.wanted, ...data.keys()]));
  return {
    ...counts,
    pages: pages.length,
    picturesMade: images.made,
    removed,
    failed: proofs.failed,
    wasStopped: false,
    decisions: plan.decisions,
  };
}

/** All pages, and the index that their script reads. */
function filesOf(gallery: Gallery, options: MakeGalleryOptions, publicIdOf: PublicIdOf, style: Style) {
  const { state, language = 'en', address = null, people = { persons: [], mayBeNamed: false } } = options;
  const meeting = publicIdOf('meeting', state.about.id);
  const shop = options.shop === undefined ? null : { address: options.shop, meeting };
  const known = knownOfRiders(state.arrangement, state.log, people);
  const { files, findable } = findFilesOf(gallery, known, meeting, language);
  const sets = ownSetsOf(gallery, state.arrangement.riders, state.log, publicIdOf);
  const pages = [
    ...pagesOf(gallery, { language, shop, findable, style, ...keptDaysOf(state.about) }),
    ...ownPagesOf(gallery, sets, { language, shop, address, style }),
  ];
  return { pages, data: files };
}

const keptDaysOf = ({ keepDays }: MakeGalleryOptions['state']['about']) =>
  keepDays?.galleries === undefined ? {} : { keptDays: keepDays.galleries };

interface Place {
  readonly edition: string;
  readonly galleries: string;
  readonly folder: string;
  readonly record: string;
}

function placeOf({ state, edition = state.about.firstDay, meetingFolder }: MakeGalleryOptions): Place {
  if (!/^[A-Za-z0-9][A-Za-z0-9_-]{0,63}$/.test(edition)) {
    const sentence = `Expected an edition of letters, digits, "-" and "_", at most 64 of them, but got "${edition}". Choose a name that can be a folder and part of a web address.`;
    throw new GalleryError(sentence, edition);
  }
  const galleries = join(meetingFolder, 'made', 'gallery');
  return { edition, galleries, folder: join(galleries, edition), record: join(galleries, `${edition}.pictures.jsonl`) };
}

/**
 * With another secret nothing that stands there would be recognised: addresses handed out would die, and what was
 * taken down would not be found in older editions.
 */
async function refuseAnotherSecret(place: Place, log: FoldedLog, publicIdOf: PublicIdOf): Promise<void> {
  const published = log.inForce.flatMap(({ decision }) =>
    decision.kind === 'published' && decision.edition === place.edition ? Object.keys(decision.riders) : [],
  );
  const ids = new Set(published.map((rider) => publicIdOf('rider', rider)));
  const pages = (await filesIn(join(place.folder, 'rider'))).filter((path) => path.endsWith('.html'));
  if (ids.size === 0 || pages.length === 0 || pages.some((page) => ids.has(page.replace(/\.html$/, '')))) return;
  const sentence = `Expected pages in ${place.folder} under addresses made with this meeting's secret, but they were made with another one. Put back people/gallery.secret from the disk the gallery was made on, or choose another edition.`;
  throw new GalleryError(sentence, place.folder);
}

const FOLDERS = ['rider', 'mine', 'proof', 'small', 'face', 'find', 'look'] as const;

async function openFolders(folder: string, home: Language): Promise<void> {
  const others = LANGUAGES.filter((language) => language !== home);
  for (const name of [
    ...FOLDERS,
    ...others.flatMap((language) => [language, `${language}/rider`, `${language}/mine`]),
  ]) {
    await mkdir(join(folder, name), { recursive: true });
    await removeUnfinished(join(folder, name));
  }
  await removeUnfinished(folder);
}

/** All that is made of one proof for one purpose. */
interface ImageJob {
  readonly proof: string;
  readonly picture: GalleryPicture;
  readonly files: readonly Pick<PictureFile, 'path' | 'format' | 'size'>[];
  /** Null where the picture is the proof itself. */
  readonly cut: CutOf | null;
}

/** By the id of the picture or face; faces first, as a gallery is found by them. */
function imageJobs(gallery: Gallery, proofs: ReadonlyMap<FrameId, MadePicture>): readonly ImageJob[] {
  const jobs = new Map<string, ImageJob>();
  const add = (picture: GalleryPicture, files: ImageJob['files'], cut: CutOf | null) =>
    jobs.set(files[0]!.path, { proof: proofs.get(picture.frameId)!.path, picture, files, cut });
  for (const rider of gallery.riders) add(rider.face, faceFiles(rider.faceId), faceOf);
  for (const picture of gallery.riders.flatMap((rider) => rider.pictures)) {
    add(picture, [{ path: `proof/${picture.id}.jpg`, format: 'jpeg', size: picture.size }], null);
    add(picture, smallFiles(picture), smallOf);
  }
  return [...jobs.values()];
}

async function makeImages(
  gallery: Gallery,
  proofs: ReadonlyMap<FrameId, MadePicture>,
  place: Place,
  tell: GalleryScale,
  signal: AbortSignal | undefined,
) {
  const jobs = imageJobs(gallery, proofs);
  const wanted = new Set(jobs.flatMap((job) => job.files.map((file) => file.path)));
  const record = await ImageRecord.open(place.record);
  const there = new Set(await filesIn(place.folder));
  const isMade = (path: string, proof: string) => there.has(path) && record.proofOf(path) === basename(proof);
  const cutter = startCutter();
  const queue = jobs.values();
  let made = 0;
  let cut = 0;
  let done = 0;
  const work = async () => {
    for (const job of queue) {
      if (signal?.aborted) return;
      const missing = job.files.filter(({ path }) => !isMade(path, job.proof));
      if (missing.length > 0) {
        await makeImage({ ...job, files: missing }, place.folder, cutter);
        for (const { path } of missing) await record.add(path, basename(job.proof));
        made += missing.length;
        cut += 1;
      }
      done += 1;
      tell('pictures', done, jobs.length, cut);
    }
  };
  try {
    await allEnded(Array.from({ length: cutter.workers }, work));
    await record.keepOnly((path) => wanted.has(path));
  } finally {
    await Promise.all([cutter.close(), record.close()]);
  }
  return { made, wanted, wasStopped: done < jobs.length };
}

/** A proof that cannot be read is taken away: proofs can always be made again. */
async function makeImage({ proof, picture, files, cut }: ImageJob, folder: string, cutter: Cutter): Promise<void> {
  if (cut === null) return copyProof(proof, join(folder, files[0]!.path));
  const cuts = files.map(({ path, format, size }) => ({ to: join(folder, path), format, size }));
  const outcome = await cutter.run(cut(proof, picture, cuts));
  if (outcome.kind === 'made') return;
  await rm(proof, { force: true });
  const sentence = `Expected a whole proof in ${proof}, but ${outcome.sentence}. It was removed; make the gallery again, and it is made anew.`;
  throw new GalleryError(sentence, proof);
}

/** Pages of riders first, the first page last: a link never leads to a page that is not there yet. */
async function writePages(pages: readonly Page[], folder: string, tell: GalleryScale): Promise<void> {
  await copyLook(folder);
  await writeIfChanged(join(folder, 'robots.txt'), ROBOTS);
  for (const [i, page] of [...pages].reverse().entries()) {
    await writeIfChanged(join(folder, page.path), page.html);
    tell('pages', i + 1, pages.length);
  }
}

/**
 * Pages say noindex themselves, and must be fetched for that to be read; pictures cannot say so and are closed here.
 * At the root of a site only; elsewhere the pages' own word has to do.
 */
const ROBOTS = 'User-agent: *\nDisallow: /proof/\nDisallow: /small/\nDisallow: /face/\n';

async function writeIfChanged(path: string, text: string): Promise<void> {
  if ((await readFile(path, 'utf8').catch(() => null)) !== text) await writeAtomically(path, text);
}

/** Only files in the places the gallery itself writes to; what somebody put beside them stays. */
async function removeOthers(folder: string, pages: readonly Page[], others: readonly string[]): Promise<number> {
  const wanted = new Set([...pages.map((page) => page.path), ...others]);
  const gone = (await filesIn(folder)).filter((path) => isOwnFile(path) && !wanted.has(path));
  await Promise.all(gone.map((path) => rm(join(folder, path), { force: true })));
  return gone.length;
}

function countsOf(gallery: Gallery): { riders: number; pictures: number } {
  const pictures = new Set(gallery.riders.flatMap((rider) => rider.pictures.map((picture) => picture.id)));
  return { riders: gallery.riders.length, pictures: pictures.size };
}
