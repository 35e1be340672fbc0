/** What a file is, by its first bytes and, where they do not tell, by its name. */
import { extname } from 'node:path';
import type { MediaKind } from '../../core/measure/types.js';

const RAW = new Set(
  '.dng .nef .nrw .cr2 .cr3 .crw .arw .srf .sr2 .raf .orf .rw2 .pef .ptx .srw .rwl .3fr .fff .iiq .mos .mrw .x3f .erf .kdc .dcr'.split(
    ' ',
  ),
);
const CLIP = new Set('.mov .mp4 .m4v .avi .mts .m2ts .mxf .3gp .crm .braw .r3d'.split(' '));
/** What stands beside a picture or clip: settings, thumbnails of clips, voice memos, indexes. */
const SIDE = new Set(
  '.xmp .xml .thm .lrv .wav .ctg .dop .pp3 .cos .bim .bdm .mpl .cpi .dat .ind .int .txt .log'.split(' '),
);
const JPEG = new Set('.jpg .jpeg .jpe .mpo'.split(' '));

export interface Recognised {
  readonly media: MediaKind;
  /** How the bytes are laid out, for the reader. */
  readonly layout: 'jpeg' | 'tiff' | 'raf' | 'none';
  /** True where the name promises a picture and the bytes are none. */
  readonly isBroken: boolean;
}

/** `head`: the first bytes of the file, 16 are enough. */
export const recognise = (path: string, head: Buffer): Recognised => {
  const extension = extname(path).toLowerCase();
  if (SIDE.has(extension)) return { media: 'side-file', layout: 'none', isBroken: false };
  const bytes = byBytes(head, extension);
  if (bytes !== null) return { ...bytes, isBroken: false };
  const media = byName(extension);
  return { media, layout: 'none', isBroken: media === 'jpeg' || (media === 'raw' && head.length === 0) };
};

const byBytes = (head: Buffer, extension: string): Pick<Recognised, 'media' | 'layout'> | null => {
  if (head.length >= 3 && head.readUIntBE(0, 3) === 0xffd8ff) return { media: 'jpeg', layout: 'jpeg' };
  if (head.toString('latin1', 0, 15) === 'FUJIFILMCCD-RAW') return { media: 'raw', layout: 'raf' };
  if (/^(II[*UR]|MM\0[*])/.test(head.toString('latin1', 0, 4))) {
    return { media: RAW.has(extension) ? 'raw' : 'other', layout: 'tiff' };
  }
  if (head.toString('latin1', 4, 8) !== 'ftyp') return null;
  const brand = head.toString('latin1', 8, 12);
  if (brand === 'crx ') return { media: 'raw', layout: 'none' };
  if (/^(hei|hev|mif|msf|avif)/.test(brand)) return { media: 'other', layout: 'none' };
  return { media: 'clip', layout: 'none' };
};

const byName = (extension: string): MediaKind => {
  if (JPEG.has(extension)) return 'jpeg';
  if (RAW.has(extension)) return 'raw';
  return CLIP.has(extension) ? 'clip' : 'other';
};
