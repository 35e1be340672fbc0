/** One rider as a card: livery in words leads, a number stands in its plate, and one tap brings the whole day. */
import { xml } from '../core/finish/index.js';
import type { GalleryPicture, GalleryRider } from '../core/handover/types.js';
import { foundUnder } from '../core/measure/index.js';
import type { ColourName } from '../core/measure/types.js';
import { outOf100 } from '../core/units.js';
import { count } from './html.js';

/** Size of the crops that riders are known by. */
export const FACE = { widthPx: 480, heightPx: 360 } as const;
/** Width of the small pictures; their heights keep the picture's shape. */
export const SMALL_WIDTH_PX = 640;

/** The small picture's size as it is made; never enlarged. */
export function smallSize({ size }: Pick<GalleryPicture, 'size'>): { widthPx: number; heightPx: number } {
  const widthPx = Math.min(SMALL_WIDTH_PX, size.widthPx);
  return { widthPx, heightPx: Math.max(1, Math.round((size.heightPx * widthPx) / size.widthPx)) };
}

/** A colour's part of addresses and class names. */
export const slugOf = (colour: ColourName): string => colour.replace(' ', '-');

export const tabsOf = (colours: readonly ColourName[]): string =>
  colours.map((colour) => `<span class="tab c-${slugOf(colour)}"></span>`).join('');

/** A number somebody said stands in a plate; one that was read is a guess, in italics, with how sure it is. */
export function numberOf({ number }: Pick<GalleryRider, 'number'>): string {
  if (number === null) return '';
  if (number.source.kind !== 'guessed') return `<span class="plate">${xml(number.text)}</span>`;
  return `<span class="guess">perhaps ${xml(number.text)}, ${outOf100(number.source.confidence)} of 100 sure</span>`;
}

export interface CardSpec {
  readonly rider: GalleryRider;
  readonly root: string;
  /** A picture of this session instead of the face; null for the face. */
  readonly picture: GalleryPicture | null;
  /** The first few are fetched at once, the rest as they come near. */
  readonly isNear: boolean;
}

/** On one line: a takedown removes a card from an older edition by its line. */
export function cardOf({ rider, root, picture, isNear }: CardSpec): string {
  const image = picture ?? rider.face;
  const { widthPx, heightPx } = picture ? smallSize(picture) : FACE;
  const src = picture ? `${root}small/${picture.id}.jpg` : `${root}face/${rider.faceId}.jpg`;
  const sessions = [...new Set(rider.pictures.map((one) => one.session).filter((one) => one !== null))];
  const data = [
    `data-rider="${rider.publicId}"`,
    `data-sessions="${sessions.join(' ')}"`,
    `data-colours="${foundUnder(rider.colours).map(slugOf).join(' ')}"`,
    `data-number="${xml(rider.number?.text.toUpperCase() ?? '')}"`,
  ].join(' ');
  return [
    `<li ${data}><a href="${root}rider/${rider.publicId}.html">`,
    `<img src="${src}" width="${widthPx}" height="${heightPx}" alt="${xml(image.alt)}" class="${placeOf(picture)}"${isNear ? '' : ' loading="lazy"'} decoding="async">`,
    `<span class="who"><span><span class="tabs">${tabsOf(rider.colours)}</span>${xml(rider.livery)} ${numberOf(rider)}</span>`,
    `<span class="quiet">${count(rider.pictures.length, 'picture')}</span></span>`,
    '<span class="me">That’s me</span></a></li>',
  ].join('');
}

/** Where a picture cut to a card's shape is held: about the bike. */
function placeOf(picture: GalleryPicture | null): string {
  if (!picture?.box) return 'x2';
  return `x${Math.round(Math.min(1, Math.max(0, picture.box[0] + picture.box[2] / 2)) * 4)}`;
}

const NEAR_CARDS = 8;

export function cardsOf(
  riders: readonly GalleryRider[],
  root: string,
  pictureOf: (rider: GalleryRider) => GalleryPicture | null = () => null,
): string {
  const cards = riders.map((rider, i) => cardOf({ rider, root, picture: pictureOf(rider), isNear: i < NEAR_CARDS }));
  return `<ul class="riders">\n${cards.join('\n')}\n</ul>`;
}
