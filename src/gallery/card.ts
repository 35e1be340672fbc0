/** One rider as a card: livery in words leads, a number stands in its plate, and one tap brings the whole day. */
import { xml } from '../core/finish/index.js';
import { clockText } from '../core/handover/index.js';
import type { GalleryPicture, GalleryRider } from '../core/handover/types.js';
import type { ColourName } from '../core/measure/types.js';
import { outOf100 } from '../core/units.js';
import { homeOf, rootOf, type Site } from './html.js';
import { faceSources, faceTag, type Sources, smallSources, smallTag } from './pictures.js';

/** A colour's part of addresses and class names. */
export const slugOf = (colour: ColourName): string => colour.replace(' ', '-');

export const tabsOf = (colours: readonly ColourName[]): string =>
  colours.map((colour) => `<span class="tab c-${slugOf(colour)}"></span>`).join('');

/** A number somebody said stands in a plate; one that was read is a guess, in italics, with how sure it is. */
export function numberOf({ tongue }: Site, { number }: Pick<GalleryRider, 'number'>): string {
  if (number === null) return '';
  if (number.source.kind !== 'guessed') return `<span class="plate">${xml(number.text)}</span>`;
  const sure = outOf100(number.source.confidence);
  return `<span class="guess">${tongue.html('perhapsNumber', { number: xml(number.text), sure })}</span>`;
}

/** What is to be seen, for those who cannot see it. A number that was only read is left out. */
export function altOf(site: Site, rider: GalleryRider, picture: GalleryPicture): string {
  const { tongue } = site;
  const { number } = rider;
  return xml(
    tongue.list([
      tongue.livery(rider.look),
      number === null || number.source.kind === 'guessed' ? '' : tongue.say('number', { number: number.text }),
      whereOf(site, picture),
    ]),
  );
}

/** Where livery and number stand on the page already; where nothing else is known, these all the same. */
export const placeAlt = (site: Site, rider: GalleryRider, picture: GalleryPicture): string =>
  xml(whereOf(site, picture)) || altOf(site, rider, picture);

function whereOf({ gallery, tongue }: Site, { spot, session, wall }: GalleryPicture): string {
  const known = gallery.sessions.find((one) => one.index === session);
  return tongue.list([
    spot === null ? '' : tongue.say('atSpot', { spot }),
    known === undefined ? '' : tongue.say('inSession', { name: known.name }),
    wall === null ? '' : clockText(wall),
  ]);
}

interface CardSpec {
  readonly rider: GalleryRider;
  /** Of the page the card stands on. */
  readonly path: string;
  /** A picture of this session instead of the face; null for the face. */
  readonly picture: GalleryPicture | null;
  readonly isNear: boolean;
}

/** On one line: a takedown removes a card from an older edition by its line. */
function cardOf(site: Site, { rider, path, picture, isNear }: CardSpec): string {
  const { tongue } = site;
  const place = placeOf(picture);
  const how = { alt: placeAlt(site, rider, picture ?? rider.face), ...(place === null ? {} : { look: place }), isNear };
  const root = rootOf(site, path);
  const number = rider.number === null ? '' : ` data-number="${xml(rider.number.text.toUpperCase())}"`;
  return [
    `<li data-rider="${rider.publicId}"${number}><a href="${homeOf(path)}rider/${rider.publicId}.html">`,
    picture ? smallTag(picture, root, 'card', how) : faceTag(rider.faceId, root, how),
    `<span class="who"><span><span class="tabs">${tabsOf(rider.colours)}</span>${xml(tongue.livery(rider.look))} ${numberOf(site, rider)}</span>`,
    `<span class="quiet">${tongue.html('picturesCounted', { n: rider.pictures.length })}</span></span>`,
    `<span class="me">${tongue.html('thatsMe')}</span></a></li>`,
  ].join('');
}

/** Where a picture cut to a card's shape is held: about the bike. */
function placeOf(picture: GalleryPicture | null): string | null {
  if (!picture?.box) return null;
  return `x${Math.round(Math.min(1, Math.max(0, picture.box[0] + picture.box[2] / 2)) * 4)}`;
}

export function cardsOf(
  site: Site,
  riders: readonly GalleryRider[],
  path: string,
  pictureOf: (rider: GalleryRider) => GalleryPicture | null = () => null,
): string {
  const cards = riders.map((rider, i) => cardOf(site, { rider, path, picture: pictureOf(rider), isNear: i === 0 }));
  return `<ul class="riders">\n${cards.join('\n')}\n</ul>`;
}

/** Of the first card, to be fetched early. */
export function firstSources(
  site: Site,
  riders: readonly GalleryRider[],
  path: string,
  pictureOf: (rider: GalleryRider) => GalleryPicture | null = () => null,
): Sources | null {
  const [first] = riders;
  if (first === undefined) return null;
  const picture = pictureOf(first);
  const root = rootOf(site, path);
  return picture ? smallSources(picture, root, 'card') : faceSources(first.faceId, root);
}
