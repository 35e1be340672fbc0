/** Small pictures made by code: an invented bike in front of an invented track, with a camera's metadata in the file. */
import { execFileSync } from 'node:child_process';
import { writeFile } from 'node:fs/promises';
import sharp from 'sharp';

/** Strings that must never be found in anything published. */
export const PRIVATE_WORDS = {
  serial: 'SERIAL-4711-INVENTED',
  note: 'private note: owes me for last year',
  gpsText: '51/1 31/1 12/1',
  software: 'Firmware-9.87-invented',
} as const;

export interface PictureSpec {
  readonly widthPx?: number;
  readonly heightPx?: number;
  readonly bike?: string;
  readonly rider?: string;
  readonly background?: string;
  /** Exif orientation as recorded. */
  readonly orientation?: number;
}

/** Upright 0–1 box of the bike that `drawPicture` draws. */
export const DRAWN_BOX = [0.3, 0.34, 0.4, 0.4] as const;

function sceneSvg(spec: PictureSpec, width: number, height: number): string {
  const x = (share: number) => (share * width).toFixed(1);
  const y = (share: number) => (share * height).toFixed(1);
  const wheel = (at: number) => `<circle cx="${x(at)}" cy="${y(0.65)}" r="${y(0.085)}" fill="#1b1b1d"/>`;
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}">
    <rect width="100%" height="100%" fill="${spec.background ?? '#8fa37c'}"/>
    <rect y="${y(0.55)}" width="100%" height="${y(0.45)}" fill="#6d6f70"/>
    <rect y="${y(0.86)}" width="100%" height="${y(0.05)}" fill="#b9403a"/>
    ${wheel(0.36)}${wheel(0.64)}
    <path d="M${x(0.31)} ${y(0.52)} L${x(0.62)} ${y(0.46)} L${x(0.68)} ${y(0.58)} L${x(0.55)} ${y(0.68)} L${x(0.42)} ${y(0.66)} Z" fill="${spec.bike ?? '#e07a1f'}"/>
    <path d="M${x(0.4)} ${y(0.5)} L${x(0.5)} ${y(0.38)} L${x(0.58)} ${y(0.47)} Z" fill="${spec.rider ?? '#f2f2ee'}"/>
    <circle cx="${x(0.55)}" cy="${y(0.385)}" r="${y(0.04)}" fill="${spec.rider ?? '#f2f2ee'}"/>
  </svg>`;
}

/** Writes a camera-like JPEG: with position, serial number and a private note in its Exif. */
export async function drawPicture(path: string, spec: PictureSpec = {}): Promise<void> {
  const width = spec.widthPx ?? 900;
  const height = spec.heightPx ?? 600;
  const jpeg = await sharp(Buffer.from(sceneSvg(spec, width, height)))
    .withExif({
      IFD0: {
        Make: 'Invented',
        Model: 'One',
        Software: PRIVATE_WORDS.software,
      },
      IFD2: {
        BodySerialNumber: PRIVATE_WORDS.serial,
        UserComment: PRIVATE_WORDS.note,
        LensSerialNumber: PRIVATE_WORDS.serial,
      },
      IFD3: {
        GPSLatitudeRef: 'N',
        GPSLatitude: PRIVATE_WORDS.gpsText,
        GPSLongitudeRef: 'W',
        GPSLongitude: '0/1 7/1 30/1',
      },
    })
    .withMetadata({ orientation: spec.orientation ?? 1 })
    .jpeg({ quality: 88 })
    .toBuffer();
  await writeFile(path, jpeg);
}

/** exiftool as an oracle: `null` where it is not installed, said loudly; a failure where REQUIRE_ORACLES=1. */
export function exiftool(args: readonly string[]): string | null {
  try {
    return execFileSync('exiftool', [...args], { encoding: 'utf8', stdio: ['ignore', 'pipe', 'pipe'] });
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'ENOENT') throw error;
    if (process.env.REQUIRE_ORACLES === '1')
      throw new Error('Expected exiftool for this check, but it is not installed.');
    console.warn(
      'SKIPPED: exiftool is not installed (Debian: libimage-exiftool-perl); 1 check against it was not made.',
    );
    return null;
  }
}
