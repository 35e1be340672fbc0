/** One rider's day, and what is shown at addresses that no longer hold one. */
import { xml } from '../core/finish/index.js';
import { clockText } from '../core/handover/index.js';
import type { Gallery, GalleryPicture, GalleryRider, OldAddress, PublicId } from '../core/handover/types.js';
import { numberOf, smallSize, tabsOf } from './card.js';
import { count, type Page, pageOf } from './html.js';
import { wheelOf } from './wheel.js';

export const riderPath = (id: PublicId): string => `rider/${id}.html`;

export function riderPages(gallery: Gallery): readonly Page[] {
  return [
    ...gallery.riders.map((rider) => dayPage(gallery, rider)),
    ...gallery.oldAddresses.map((old) => oldPage(gallery, old)),
  ];
}

function dayPage(gallery: Gallery, rider: GalleryRider): Page {
  const title = `${rider.livery}, ${count(rider.pictures.length, 'picture')}`;
  const body = [
    `<h1>Your day, ${count(rider.pictures.length, 'picture')}.</h1>`,
    `<div class="day">${gallery.spots.length === 0 ? '' : wheelOf(arcsOf(gallery, rider), rider.pictures.length)}`,
    `<div><p><span class="tabs">${tabsOf(rider.colours)}</span> ${xml(rider.livery)} ${numberOf(rider)}</p>`,
    `<p class="note">${xml(spotsText(gallery, rider))}</p>`,
    `${whichText(rider)}<p><a href="../index.html">Not you? All riders</a></p></div></div>`,
    separatedText(gallery, rider.separated),
    '<div class="parts">',
    ...partsOf(gallery, rider).map((part, i) => partOf(gallery, part, i)),
    '</div>',
  ];
  return pageOf(gallery, {
    path: riderPath(rider.publicId),
    title,
    body: body.filter((line) => line !== '').join('\n'),
  });
}

const arcsOf = (gallery: Gallery, rider: GalleryRider) =>
  gallery.spots.map(({ name, number }) => ({
    name,
    number,
    pictures: rider.pictures.filter((one) => one.spot === name).length,
  }));

/** "Gannet 7, Strand 3. Nothing at Beacon: sorry." */
function spotsText(gallery: Gallery, rider: GalleryRider): string {
  const arcs = arcsOf(gallery, rider);
  const seen = arcs.filter((arc) => arc.pictures > 0).map((arc) => `${arc.name} ${arc.pictures}`);
  const elsewhere = rider.pictures.filter((one) => one.spot === null).length;
  const none = arcs.filter((arc) => arc.pictures === 0).map((arc) => arc.name);
  const parts = [...seen, ...(elsewhere > 0 ? [`${elsewhere} from a spot not noted`] : [])];
  const sorry = none.length === 0 || seen.length === 0 ? '' : ` Nothing at ${listText(none)}: sorry.`;
  return `${parts.join(', ')}.${sorry}`;
}

const listText = (words: readonly string[]): string =>
  words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} or ${words.at(-1)}`;

/** Pictures of one session at one spot, in order of time. */
function partsOf(_gallery: Gallery, rider: GalleryRider): readonly (readonly GalleryPicture[])[] {
  const parts = new Map<string, GalleryPicture[]>();
  for (const picture of rider.pictures) {
    const key = `${picture.session}|${picture.spot}`;
    parts.set(key, [...(parts.get(key) ?? []), picture]);
  }
  return [...parts.values()];
}

function partOf(gallery: Gallery, pictures: readonly GalleryPicture[], index: number): string {
  const first = pictures[0]!;
  const session = gallery.sessions.find((one) => one.index === first.session);
  const words = [
    first.wall === null ? null : clockText(first.wall),
    session ? `session ${session.name}` : 'outside the sessions',
  ];
  const head = `${xml(first.spot ?? 'Pictures')} <span>${xml(words.filter((word) => word !== null).join(' '))}</span>`;
  const items = pictures.map((picture, i) => itemOf(picture, index === 0 && i < 2));
  return `<section class="part w${Math.min(pictures.length, MOST_BESIDE)}"><h2>${head}</h2>\n<ul class="pictures">\n${items.join('\n')}\n</ul></section>`;
}

/** A part is as wide as its pictures, so that short ones stand beside each other; the look has so many widths. */
const MOST_BESIDE = 4;

/** On one line, as cards are. The picture itself is the link: a browser shows it, and goes back, by itself. */
function itemOf(picture: GalleryPicture, isNear: boolean): string {
  const { widthPx, heightPx } = smallSize(picture);
  const lazy = isNear ? '' : ' loading="lazy"';
  return `<li><a href="../proof/${picture.id}.jpg"><img src="../small/${picture.id}.jpg" width="${widthPx}" height="${heightPx}" alt="${xml(picture.alt)}"${lazy} decoding="async">${whichOf(picture)}</a></li>`;
}

/** A bar as wide as the rider's bike, under a picture that shows others too. */
function whichOf({ box, isShared }: GalleryPicture): string {
  if (!isShared || box === null) return '';
  const [from, width] = [box[0] * 100, box[2] * 100].map((percent) => percent.toFixed(1));
  return `<svg class="which" viewBox="0 0 100 1" preserveAspectRatio="none" aria-hidden="true"><rect x="${from}" width="${width}" height="1"/></svg>`;
}

const whichText = (rider: GalleryRider): string =>
  rider.pictures.some(({ box, isShared }) => isShared && box !== null)
    ? '<p class="note">Where a picture shows more than one bike, the bar under it is below yours.</p>'
    : '';

function separatedText(gallery: Gallery, ids: readonly PublicId[]): string {
  if (ids.length === 0) return '';
  return `<p>Some pictures that stood here have been separated: they are of another rider. ${linksTo(gallery, ids)}</p>`;
}

function linksTo(gallery: Gallery, ids: readonly PublicId[]): string {
  const riders = gallery.riders.filter((rider) => ids.includes(rider.publicId));
  return `${riders.map((rider) => `<a href="${rider.publicId}.html">${xml(rider.livery)}, ${count(rider.pictures.length, 'picture')}</a>`).join(', ')}.`;
}

function oldPage(gallery: Gallery, old: OldAddress): Page {
  const text: Readonly<Record<OldAddress['kind'], string>> = {
    moved: 'These pictures are now with all of this rider’s day:',
    separated: 'These pictures have been separated: they are of more than one rider.',
    gone: 'The pictures that stood here are not here any more.',
  };
  const links = old.to.length === 0 ? '' : ` ${linksTo(gallery, old.to)}`;
  const body = `<h1>This page has changed.</h1>\n<p>${text[old.kind]}${links}</p>\n<p><a href="../index.html">All riders</a></p>`;
  return pageOf(gallery, { path: riderPath(old.publicId), title: 'This page has changed', body });
}
