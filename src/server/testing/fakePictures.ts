/** Pictures of the made-up day: a bike drawn in its rider's colours, so that a screen can be judged without cards. */
import { mkdtemp } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import type { Box } from '../../core/measure/types.js';

export interface DrawnBike {
  readonly bike: readonly [string, string];
  readonly leathers: string;
  readonly helmet: string;
  readonly number: string | null;
  /** Ground, kerb and sky of the spot. */
  readonly scene: readonly [string, string, string];
  /** Where the bike stands, 0–1. */
  readonly at: readonly [number, number];
  readonly scale: number;
  readonly leanDeg: number;
  readonly isMirrored: boolean;
  readonly blurPx: number;
}

export const WIDTH_PX = 640;
export const HEIGHT_PX = 427;

const svgOf = (drawn: DrawnBike): string => {
  const [ground, kerb, sky] = drawn.scene;
  const flip = drawn.isMirrored ? 'scale(-1 1)' : '';
  const place = `translate(${drawn.at[0] * WIDTH_PX} ${drawn.at[1] * HEIGHT_PX}) scale(${drawn.scale}) ${flip} rotate(${drawn.leanDeg})`;
  const wheel = (x: number) =>
    `<circle cx="${x}" cy="70" r="42" fill="#15171a"/><circle cx="${x}" cy="70" r="27" fill="#55595c"/><circle cx="${x}" cy="70" r="9" fill="#15171a"/>`;
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${WIDTH_PX}" height="${HEIGHT_PX}">
<rect width="640" height="427" fill="${sky}"/><rect y="150" width="640" height="277" fill="#6f8f52"/>
<rect y="200" width="640" height="227" fill="${ground}"/>
${Array.from({ length: 9 }, (_, i) => `<rect x="${i * 80}" y="196" width="40" height="9" fill="${kerb}"/>`).join('')}
<g transform="${place}">${wheel(-95)}${wheel(95)}
<path d="M-150 -20 L-95 -38 L-20 -22 L70 -52 L128 -20 L112 14 L40 44 L-50 40 L-92 18Z" fill="${drawn.bike[0]}"/>
<path d="M40 44 L112 14 L128 -20 L96 -36 L10 12 L-30 42Z" fill="${drawn.bike[1]}"/>
<path d="M-92 -40 L-62 -92 L-8 -108 L34 -78 L52 -48 L18 -40 L-4 -58 L-34 -34 L-12 24 L-40 34 L-70 -12Z" fill="${drawn.leathers}" stroke="#0004" stroke-width="3"/>
<ellipse cx="28" cy="-104" rx="30" ry="26" fill="${drawn.helmet}" stroke="#0005" stroke-width="3"/>
<path d="M34 -112 L58 -106 L54 -92 L36 -94Z" fill="#15171a"/>
${drawn.number === null ? '' : `<rect x="72" y="-42" width="46" height="30" fill="#fff"/><text x="95" y="-19" font-family="sans-serif" font-size="26" font-weight="700" text-anchor="middle" fill="#111">${drawn.number}</text>`}
</g></svg>`;
};

let folder: Promise<string> | null = null;
const made = new Map<string, Promise<string>>();

/** Draws each picture once a process, into a temporary folder. */
export const drawPicture = (frame: string, drawn: DrawnBike): Promise<string> => {
  folder ??= mkdtemp(join(tmpdir(), 'tyrewall-fake-'));
  const key = JSON.stringify([frame, drawn]);
  const before = made.get(key) ?? draw(folder, made.size, drawn);
  made.set(key, before);
  return before;
};

/** A crop is drawn anew at its size, though no larger than a screen. */
const MOST_CROP_PX = 1600;

/** @param part of the picture, 0–1 */
export const drawCrop = (frame: string, drawn: DrawnBike, part: Box, widthPx: number): Promise<string> => {
  folder ??= mkdtemp(join(tmpdir(), 'tyrewall-fake-'));
  const key = JSON.stringify([frame, drawn, part]);
  const before = made.get(key) ?? drawPart(folder, made.size, drawn, part, Math.min(MOST_CROP_PX, widthPx));
  made.set(key, before);
  return before;
};

async function drawPart(
  into: Promise<string>,
  index: number,
  drawn: DrawnBike,
  [left, top, width, height]: Box,
  widthPx: number,
): Promise<string> {
  const path = join(await into, `${index}.jpg`);
  const [across, down] = [width * WIDTH_PX, height * HEIGHT_PX];
  const size = `width="${widthPx}" height="${(widthPx * down) / across}"`;
  const seen = `viewBox="${left * WIDTH_PX} ${top * HEIGHT_PX} ${across} ${down}"`;
  const image = sharp(Buffer.from(svgOf(drawn).replace(/width="\d+" height="\d+"/, `${size} ${seen}`)));
  const blurPx = (drawn.blurPx * widthPx) / across;
  await (blurPx > 0 ? image.blur(blurPx) : image).jpeg({ quality: 85 }).toFile(path);
  return path;
}

async function draw(into: Promise<string>, index: number, drawn: DrawnBike): Promise<string> {
  const path = join(await into, `${index}.jpg`);
  const image = sharp(Buffer.from(svgOf(drawn)));
  await (drawn.blurPx > 0 ? image.blur(drawn.blurPx) : image).jpeg({ quality: 80 }).toFile(path);
  return path;
}
