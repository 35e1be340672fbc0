/** Bringing in, where a promise was broken. What a photographer will meet comes as outcomes with sentences instead. */
export class BringInError extends Error {
  override readonly name = 'BringInError';
  readonly path: string;

  constructor(message: string, path: string, cause?: unknown) {
    super(message, { cause });
    this.path = path;
  }
}

export function codeOf(error: unknown): string {
  return typeof error === 'object' && error !== null && 'code' in error ? String(error.code) : '';
}

const meanings: Readonly<Record<string, string>> = {
  EIO: 'the device could not read or write there',
  ENOSPC: 'the disk is full',
  EDQUOT: 'the disk is full for this user',
  EROFS: 'the disk is read-only',
  EACCES: 'this user has no permission',
  EPERM: 'this user has no permission',
  ENODEV: 'the device is gone',
  ENXIO: 'the device is gone',
  ENOENT: 'it is no longer there',
  ESTALE: 'the network disk is gone',
  ENAMETOOLONG: 'the name is too long for this disk',
  EINVAL: 'this disk cannot hold such a name or file',
  EFBIG: 'the file is too large for this disk',
  ELOOP: 'it is a link, and links are not followed',
};

/** What went wrong in plain words, with the system's own code behind it. */
export function meaningOf(error: unknown): string {
  const code = codeOf(error);
  const known = meanings[code];
  if (known !== undefined) return `${known} (${code})`;
  return error instanceof Error ? error.message : String(error);
}

/** True where the whole disk, not one file, is the trouble. */
export const isDiskTrouble = (error: unknown): boolean =>
  ['ENOSPC', 'EDQUOT', 'EROFS', 'ENODEV', 'ENXIO', 'ESTALE'].includes(codeOf(error));
