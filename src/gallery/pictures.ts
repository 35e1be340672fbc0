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

/** Cards are 210–270 points wide on any screen, so that pixels a point are all there is to choose by. */
export const faceSources = (id: PublicId, root: string): Sources => ({
  type: 'image/avif',
  srcset: FACE_WIDTHS.map((width, i) => `${root}face/${id}-${width}.avif${i === 0 ? '' : ' 2x'}`).join(', '),
  sizes: null,
});

/** Widths as in the look: two beside each other on a phone in a list, one in a rider's day. */
const SIZES = {
  card: '(max-width: 760px) 50vw, 260px',
  day: '(max-width: 760px) 100vw, (max-width: 1100px) 50vw, 336px',
} as const;

export const smallSources = (picture: GalleryPicture, root: string, where: keyof typeof SIZES): Sources => ({
  type: 'image/webp',
  srcset: smallWidths(picture)
    .map((width) => `${root}small/${picture.id}-${width}.webp ${width}w`)
    .join(', '),
  sizes: SIZES[where],
});

export interface ShownPicture {
  readonly sources: Sources;
  readonly src: string;
  readonly size: PixelSize;
  /** Escaped already. */
  readonly alt: string;
  readonly look?: string;
  /** The first few are fetched at once, the rest as they come near. */
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
  where: keyof typeof SIZES,
  how: Pick<ShownPicture, 'alt' | 'look' | 'isNear'>,
): string =>
  pictureTag({
    ...how,
    sources: smallSources(picture, root, where),
    src: `${root}small/${picture.id}.jpg`,
    size: within(picture, PLAIN_WIDTH),
  });
