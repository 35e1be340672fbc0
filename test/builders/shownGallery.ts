/**
 * A gallery as large as a track day's, without a meeting behind it: every kind of page, liveries in all their parts, numbers
 * said and read, riders who may be one, long names. Its pictures are a few real ones under many addresses.
 */
import { createHash } from 'node:crypto';
import { link, mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import sharp from 'sharp';
import { framesOfCard } from '../../demo/frames.js';
import { type Gallery, type GalleryRider, planGallery } from '../../src/core/handover/index.js';
import { faceFiles, type Page, pagesOf, type Shop, smallFiles } from '../../src/gallery/index.js';
import { cutPicture } from '../../src/host/gallery/cutPicture.js';
import { copyLook, readStyle } from '../../src/host/gallery/look.js';
import { mintWith, publicIdsOf } from '../../src/host/gallery/secret.js';
import { galleryDay } from './galleryDay.js';

const SECRET = 'ab'.repeat(32);
const PROOF = { widthPx: 1400, heightPx: 933 } as const;
const REAL_PICTURES = 4;

export const SHOWN_SHOP: Shop = {
  address: 'https://orders.quill.invalid',
  meeting: publicIdsOf(SECRET)('meeting', 'shown'),
};

/** Where a rider once stood. */
export const OLD_ADDRESS = 'f'.repeat(32);

export interface ShownSpec {
  readonly riders: number;
  readonly picturesEach?: number;
  /** What a hostile or proud organiser writes. */
  readonly longNames?: boolean;
}

const LONG = 'Donaudampfschifffahrtsgesellschaftsfahrertrainingsnachmittag <b>& friends</b>';

export function shownGallery({ riders, picturesEach = 2, longNames = false }: ShownSpec): Gallery {
  const day = galleryDay({ riders: Math.max(1, riders), about: { r1: { number: '94', numberConfidence: 0.82 } } });
  const { gallery } = planGallery({
    ...day,
    about: {
      ...day.about,
      spots: longNames ? day.about.spots.map((spot) => ({ ...spot, name: `${spot.name} ${LONG}` })) : day.about.spots,
    },
    edition: 'shown',
    contact: 'pictures@quill.invalid',
    proofs: new Map(day.arrangement.exposures.map((one) => [one.frameId, PROOF])),
    publicIdOf: publicIdsOf(SECRET),
    mint: mintWith(SECRET),
  });
  const shown = gallery.riders.map((rider, i, all) => fuller(rider, picturesEach, all[(i + 1) % all.length]!));
  return {
    ...gallery,
    title: longNames ? LONG : gallery.title,
    circuit: longNames ? LONG : gallery.circuit,
    riders: riders === 0 ? [] : shown,
    oldAddresses: [{ publicId: OLD_ADDRESS, kind: 'gone', to: [] }],
    sessions: riders === 0 ? gallery.sessions.map((one) => ({ ...one, riders: [] })) : gallery.sessions,
  };
}

/** One address of every kind of page, from its language's folder. */
export const kindsOfPages = ({ riders }: Gallery): readonly string[] => [
  'index.html',
  'cannot-find.html',
  'session-n1.html',
  'colour-orange.html',
  'numbers.html',
  'privacy.html',
  `rider/${riders[0]!.publicId}.html`,
  `rider/${OLD_ADDRESS}.html`,
];

/** More pictures, a whole livery, and a neighbour who may be the same. */
function fuller(rider: GalleryRider, picturesEach: number, other: GalleryRider): GalleryRider {
  const own = rider.pictures;
  const pictures = Array.from({ length: picturesEach }, (_, i) => {
    const id = createHash('sha256').update(`${rider.publicId} ${i}`).digest('hex').slice(0, 32);
    return { ...own[Math.floor((i * own.length) / picturesEach)]!, id, isShared: i % 5 === 4 };
  });
  return {
    ...rider,
    look: { ...rider.look, leathers: 'white', helmet: 'red' },
    pictures,
    face: pictures[0]!,
    perhaps: other.publicId === rider.publicId ? [] : [{ publicId: other.publicId, confidence: 0.34 }],
  };
}

/** Writes pages and pictures as the program would, each address a link to one of a few real pictures. */
export async function writeShown(
  folder: string,
  gallery: Gallery,
  shop: Shop | null = SHOWN_SHOP,
  more: Pick<NonNullable<Parameters<typeof pagesOf>[1]>, 'findable'> = {},
): Promise<readonly Page[]> {
  const pages = pagesOf(gallery, { shop, style: await readStyle(), ...more });
  const folders = ['look', 'face', 'small', 'proof', ...pages.map(({ path }) => dirname(path))];
  for (const name of new Set(folders)) await mkdir(join(folder, name), { recursive: true });
  await copyLook(folder);
  for (const { path, html } of pages) await writeFile(join(folder, path), html);
  await writePictures(folder, gallery);
  return pages;
}

async function writePictures(folder: string, gallery: Gallery): Promise<void> {
  const real = await mkdtemp(join(tmpdir(), 'tyrewall-pictures-'));
  try {
    const sets = await Promise.all(Array.from({ length: REAL_PICTURES }, (_, n) => cutReal(real, n)));
    let n = 0;
    for (const { faceId, pictures } of gallery.riders) {
      const all = [...faceFiles(faceId), ...pictures.flatMap((picture) => smallFiles(picture))];
      for (const { path } of all) await link(sets[n++ % sets.length]!.get(kindOf(path))!, join(folder, path));
      for (const { id } of pictures)
        await link(sets[n++ % sets.length]!.get('proof')!, join(folder, 'proof', `${id}.jpg`));
    }
  } finally {
    await rm(real, { recursive: true });
  }
}

/** `small/…-400.webp` of every picture is one of a few files. */
const kindOf = (path: string): string => path.replace(/[0-9a-f]{32}/, '');

/** A rendered frame, enlarged to a proof with the noise that a camera's would have. */
async function cutReal(folder: string, n: number): Promise<ReadonlyMap<string, string>> {
  const frames = await framesOfCard('morning-a');
  const proof = join(folder, `proof-${n}.jpg`);
  const noise = await sharp({
    create: {
      width: PROOF.widthPx,
      height: PROOF.heightPx,
      channels: 3,
      background: '#808080',
      noise: { type: 'gaussian', mean: 128, sigma: 14 },
    },
  })
    .png()
    .toBuffer();
  await sharp(frames[Math.floor((n * frames.length) / REAL_PICTURES)]!)
    .resize(PROOF.widthPx, PROOF.heightPx, { fit: 'fill' })
    .composite([{ input: noise, blend: 'soft-light' }])
    .jpeg({ quality: 82 })
    .toFile(proof);
  const files = new Map([['proof', proof]]);
  const picture = { id: '0'.repeat(32), size: PROOF };
  const place = (path: string) => join(folder, `${n}-${kindOf(path).replace('/', '-')}`);
  const wanted = [
    { region: { left: 300, top: 150, width: 800, height: 600 }, all: faceFiles(picture.id) },
    { region: null, all: smallFiles(picture) },
  ];
  for (const { region, all } of wanted) {
    const cuts = all.map(({ path, format, size }) => ({ to: place(path), format, size }));
    const outcome = await cutPicture({ proof, region, cuts });
    if (outcome.kind === 'failed') throw new Error(outcome.sentence);
    for (const { path } of all) files.set(kindOf(path), place(path));
  }
  return files;
}
