/**
 * Which files a picture is there in, and how a page asks for the one that fits. Formats and widths were chosen by figures:
 * docs/rules/gallery.md.
 */
import type { PixelSize } from '../core/finish/types.js';
import type { GalleryPicture, PublicId } from '../core/handover/types.js';

export interface PictureFile {
  /** From the gallery's root. */
  readonly path: string;
  readonly format: 'avif' | 'webp' | 'jpeg';
  readonly size: PixelSize;
}

/** Size of the crops that riders are known by, as a JPEG. */
export const FACE: PixelSize = { widthPx: 480, heightPx: 360 };
/** For a card's width on a screen of one pixel a point, and of two or more. */
const FACE_WIDTHS = [280, 480] as const;
const SMALL_WIDTHS = [360, 640] as const;
/** Of the JPEG for old browsers, and for the order service. */
const PLAIN_WIDTH = 640;

export const faceFiles = (id: PublicId): readonly PictureFile[] => [
  { path: `face/${id}.jpg`, format: 'jpeg', size: FACE },
  ...FACE_WIDTHS.map(
    (widthPx): PictureFile => ({
      path: `face/${id}-${widthPx}.avif`,
      format: 'avif',
      size: { widthPx, heightPx: (widthPx * FACE.heightPx) / FACE.widthPx },
    }),
  ),
];

export const smallFiles = (picture: Pick<GalleryPicture, 'id' | 'size'>): readonly PictureFile[] => [
  { path: `small/${picture.id}.jpg`, format: 'jpeg', size: within(picture, PLAIN_WIDTH) },
  ...smallWidths(picture).map(
    (widthPx): PictureFile => ({
      path: `small/${picture.id}-${widthPx}.webp`,
      format: 'webp',
      size: within(picture, widthPx),
    }),
  ),
];

/** Never enlarged: a proof that is smaller stands once in its own size. */
const smallWidths = ({ size }: Pick<GalleryPicture, 'size'>): readonly number[] => [
  ...new Set(SMALL_WIDTHS.map((width) => Math.min(width, size.widthPx))),
];

function within({ size }: Pick<GalleryPicture, 'size'>, most: number): PixelSize {
  const widthPx = Math.min(most, size.widthPx);
  return { widthPx, heightPx: Math.max(1, Math.round((size.heightPx * widthPx) / size.widthPx)) };
}

/** What a browser chooses from. */
export interface Sources {
  readonly type: string;
  readonly srcset: string;
  readonly sizes: string | null;
}

/** Cards are 170–270 points wide on any screen, so that pixels a point are all there is to choose by. */
const byPixels = (paths: readonly string[]): string =>
  paths.map((path, i) => (i === 0 ? path : `${path} 2x`)).join(', ');

export const faceSources = (id: PublicId, root: string): Sources => ({
  type: 'image/avif',
  srcset: byPixels(FACE_WIDTHS.map((width) => `${root}face/${id}-${width}.avif`)),
  sizes: null,
});

type Where = 'card' | 'day';
/** Of a rider's day, as in the look: one on a phone, two beside each other, four. */
const DAY_SIZES = '(max-width:760px) 100vw,(max-width:1100px) 50vw,336px';

export function smallSources(picture: GalleryPicture, root: string, where: Where): Sources {
  const widths = smallWidths(picture);
  const paths = widths.map((width) => `${root}small/${picture.id}-${width}.webp`);
  const srcset = where === 'card' ? byPixels(paths) : paths.map((path, i) => `${path} ${widths[i]}w`).join(', ');
  return { type: 'image/webp', srcset, sizes: where === 'card' ? null : DAY_SIZES };
}

export interface ShownPicture {
  readonly sources: Sources;
  readonly src: string;
  readonly size: PixelSize;
  /** Escaped already. */
  readonly alt: string;
  readonly look?: string;
  /** The first one is fetched at once, the rest as they come near: all at once they would hold it up. */
  readonly isNear: boolean;
}

export function pictureTag({ sources, src, size, alt, look, isNear }: ShownPicture): string {
  const { type, srcset, sizes } = sources;
  const kind = look === undefined ? '' : ` class="${look}"`;
  return `<picture><source type="${type}" srcset="${srcset}"${sizes === null ? '' : ` sizes="${sizes}"`}><img src="${src}" width="${size.widthPx}" height="${size.heightPx}" alt="${alt}"${kind}${isNear ? '' : ' loading="lazy"'}></picture>`;
}

export const faceTag = (id: PublicId, root: string, how: Pick<ShownPicture, 'alt' | 'look' | 'isNear'>): string =>
  pictureTag({ ...how, sources: faceSources(id, root), src: `${root}face/${id}.jpg`, size: FACE });

export const smallTag = (
  picture: GalleryPicture,
  root: string,
  where: Where,
  how: Pick<ShownPicture, 'alt' | 'look' | 'isNear'>,
): string =>
  pictureTag({
    ...how,
    sources: smallSources(picture, root, where),
    src: `${root}small/${picture.id}.jpg`,
    size: within(picture, PLAIN_WIDTH),
  });
