/**
 * Names under DCIM: JEITA CP-3461 / CIPA DC-009 (DCF), as quoted by camera manuals.
 * A directory is 100–999 and five characters of `0-9A-Z_`; a file four such characters and 0001–9999; files of one
 * directory with one number form one object (JPEG + RAW + sound). Case does not matter. The counter runs from 9999
 * to 0001 in a new directory, so order is by time and never by name.
 */
const dcfDirectory = /^([1-9]\d\d)([0-9A-Z_]{5})$/i;
const dcfFile = /^([0-9A-Z_]{4})((?!0000)\d{4})\.([0-9A-Z]+)$/i;
const still = /\.(jpe?g|hif|heic|avif|dng|cr[23w]|nef|nrw|arw|raf|rw2|orf|ori|pef|srw|rwl|3fr|iiq|x3f)$/i;
const clip = /\.(mp4|mov|mts|m2ts|avi|mxf|crm|braw|r3d|nev)$/i;

export interface DcfDirectory {
  readonly number: number;
  readonly free: string;
}

export interface DcfFile {
  /** Four free characters; a leading `_` says optional colour space (DCF 2.0). */
  readonly free: string;
  /** 1–9999. */
  readonly number: number;
  readonly extension: string;
}

export function parseDcfDirectory(name: string): DcfDirectory | null {
  const match = dcfDirectory.exec(name);
  return match ? { number: Number(match[1]), free: match[2]! } : null;
}

export function parseDcfFile(name: string): DcfFile | null {
  const match = dcfFile.exec(name);
  return match ? { free: match[1]!, number: Number(match[2]), extension: match[3]!.toUpperCase() } : null;
}

/** True for a path `DCIM/<DCF directory>/<DCF file>`, in any case of letters. */
export function isDcfPath(path: string): boolean {
  const [top, directory, file, ...rest] = path.split('/');
  if (rest.length > 0 || top?.toUpperCase() !== 'DCIM' || directory === undefined || file === undefined) return false;
  return parseDcfDirectory(directory) !== null && parseDcfFile(file) !== null;
}

export const isStill = (path: string): boolean => still.test(path);
export const isClip = (path: string): boolean => clip.test(path);
export const isUnderDcim = (path: string): boolean => /^DCIM\//i.test(path);

/** What a card holds in one word, so that an odd one can be named before it is copied. */
export function kindOfCard(paths: readonly string[]): 'empty' | 'no-dcim' | 'clips-only' | 'stills' {
  if (paths.length === 0) return 'empty';
  if (paths.some(isStill)) return paths.some(isUnderDcim) ? 'stills' : 'no-dcim';
  return paths.some(isClip) ? 'clips-only' : 'no-dcim';
}
