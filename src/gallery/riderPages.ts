/** One rider's day, and what is shown at addresses that no longer hold one. */
import { xml } from '../core/finish/index.js';
import { clockText } from '../core/handover/index.js';
import { pictureAddress, riderAddress } from '../core/handover/orders/index.js';
import type { GalleryPicture, GalleryRider, OldAddress, PerhapsSame, PublicId } from '../core/handover/types.js';
import { outOf100 } from '../core/units.js';
import { canTell, notMeForm, notMeWay, takeDownFolded } from './askPages.js';
import { altOf, numberOf, placeAlt, tabsOf } from './card.js';
import { asidePart } from './finder/asidePart.js';
import { type Page, pageOf, rootOf, type Site } from './html.js';
import { faceTag, smallSources, smallTag } from './pictures.js';
import { wheelOf } from './wheel.js';

const riderPath = (id: PublicId): string => `rider/${id}.html`;

export function riderPages(site: Site): readonly Page[] {
  return [
    ...site.gallery.riders.map((rider) => dayPage(site, rider)),
    ...site.gallery.oldAddresses.map((old) => oldPage(site, old)),
  ];
}

/** Behind a private link the same day stands at another address, under words of its own, and leads to no other rider. */
interface OwnPage {
  readonly path: string;
  readonly head: string;
}

export function dayPage(site: Site, rider: GalleryRider, own: OwnPage | null = null): Page {
  const { gallery, tongue } = site;
  const path = own?.path ?? riderPath(rider.publicId);
  const n = rider.pictures.length;
  const livery = tongue.livery(rider.look);
  const body = [
    `<h1>${tongue.html('yourDay', { n })}</h1>`,
    `<div class="day">${gallery.spots.length === 0 ? '' : wheelOf(tongue, arcsOf(site, rider), n)}`,
    `<div><p><span class="tabs">${tabsOf(rider.colours)}</span> ${xml(livery)} ${numberOf(site, rider)}</p>`,
    `<p class="note">${spotsText(site, rider)}</p>`,
    `${whichText(site, rider)}${orderDay(site, rider)}${own ? '' : `<p><a class="door" href="../index.html">${tongue.html('notYou')}</a></p>`}</div></div>`,
    own?.head ?? separatedText(site, rider.separated),
    '<div class="parts">',
    ...partsOf(rider).map((part, i) => partOf(site, rider, part, i)),
    '</div>',
    canTell(site) ? `<p class="note">${tongue.html('notMeWhy')}</p>` : '',
    notMeForm(site, rider),
    asidePart(site, rider),
    own ? '' : perhapsText(site, rider.perhaps, path),
    takeDownFolded(site, rider),
  ];
  return pageOf(site, {
    path,
    title: tongue.list([livery, tongue.say('picturesCounted', { n })]),
    body: body.filter((line) => line !== '').join('\n'),
    look: [
      'bikes',
      'day',
      ...(site.shop === null ? [] : (['form'] as const)),
      ...(rider.perhaps.length > 0 ? (['cards'] as const) : []),
    ],
    script: 'find.js',
    early: smallSources(rider.pictures[0]!, rootOf(site, path), 'day'),
  });
}

const arcsOf = ({ gallery }: Site, rider: GalleryRider) =>
  gallery.spots.map(({ name, number }) => ({
    name,
    number,
    pictures: rider.pictures.filter((one) => one.spot === name).length,
  }));

/** "Gannet 7, Strand 3. Nothing at Beacon: sorry." */
function spotsText(site: Site, rider: GalleryRider): string {
  const { tongue } = site;
  const arcs = arcsOf(site, rider);
  const seen = arcs.filter((arc) => arc.pictures > 0).map((arc) => `${tongue.name(arc.name)} ${arc.pictures}`);
  const n = rider.pictures.filter((one) => one.spot === null).length;
  const none = arcs.filter((arc) => arc.pictures === 0).map((arc) => tongue.name(arc.name));
  const parts = tongue.list([...seen, ...(n > 0 ? [tongue.html('elsewhere', { n })] : [])]);
  const sorry =
    none.length === 0 || seen.length === 0 ? '' : ` ${tongue.html('nothingAt', { spots: tongue.either(none) })}`;
  return `${parts}.${sorry}`;
}

const orderDay = ({ tongue, shop }: Site, rider: GalleryRider): string =>
  shop === null
    ? ''
    : `<p><a class="order" href="${xml(riderAddress(shop.address, shop.meeting, rider.publicId))}?language=${tongue.language}">${tongue.html('orderDay')}</a></p>`;

/** Pictures of one session at one spot, in order of time. */
function partsOf(rider: GalleryRider): readonly (readonly GalleryPicture[])[] {
  const parts = new Map<string, GalleryPicture[]>();
  for (const picture of rider.pictures) {
    const key = `${picture.session}|${picture.spot}`;
    parts.set(key, [...(parts.get(key) ?? []), picture]);
  }
  return [...parts.values()];
}

function partOf(site: Site, rider: GalleryRider, pictures: readonly GalleryPicture[], index: number): string {
  const { gallery, tongue } = site;
  const first = pictures[0]!;
  const session = gallery.sessions.find((one) => one.index === first.session);
  const words = [
    first.wall === null ? '' : clockText(first.wall),
    session ? tongue.html('inSession', { name: tongue.name(session.name) }) : tongue.html('outside'),
  ];
  const spot = first.spot === null ? tongue.html('pictures') : tongue.name(first.spot);
  const head = `${spot} <span>${words.filter((word) => word !== '').join(' ')}</span>`;
  const items = pictures.map((picture, i) => itemOf(site, rider, picture, index === 0 && i === 0));
  return `<section class="part w${Math.min(pictures.length, MOST_BESIDE)}"><h2>${head}</h2>\n<ul class="pictures">\n${items.join('\n')}\n</ul></section>`;
}

/** A part is as wide as its pictures, so that short ones stand beside each other; the look has so many widths. */
const MOST_BESIDE = 4;

/** On one line, as cards are. The picture itself is the link: a browser shows it, and goes back, by itself. */
function itemOf(site: Site, rider: GalleryRider, picture: GalleryPicture, isNear: boolean): string {
  const root = rootOf(site, riderPath(rider.publicId));
  const image = smallTag(picture, root, 'day', { alt: placeAlt(site, rider, picture), isNear });
  return `<li data-picture="${picture.id}"><a href="${root}proof/${picture.id}.jpg">${image}${whichOf(picture)}</a>${deedsOf(site, rider, picture)}</li>`;
}

function deedsOf(site: Site, rider: GalleryRider, picture: GalleryPicture): string {
  const { tongue, shop } = site;
  const at = [picture.spot, picture.wall === null ? null : clockText(picture.wall)]
    .filter((word) => word !== null)
    .join(' ');
  const order = shop
    ? `<a href="${xml(pictureAddress(shop.address, shop.meeting, picture.id))}?language=${tongue.language}" aria-label="${xml(tongue.say('orderPicture', { at }))}">${tongue.html('order')}</a>`
    : '';
  const deeds = order + notMeWay(site, rider, picture, at);
  return deeds && `<span class="deeds">${deeds}</span>`;
}

/** A bar as wide as the rider's bike, under a picture that shows others too. */
function whichOf({ box, isShared }: GalleryPicture): string {
  if (!isShared || box === null) return '';
  const [from, width] = [box[0] * 100, box[2] * 100].map((percent) => percent.toFixed(1));
  return `<svg class="which" viewBox="0 0 100 1" preserveAspectRatio="none" aria-hidden="true"><rect x="${from}" width="${width}" height="1"/></svg>`;
}

const whichText = ({ tongue }: Site, rider: GalleryRider): string =>
  rider.pictures.some(({ box, isShared }) => isShared && box !== null)
    ? `<p class="note">${tongue.html('whichBar')}</p>`
    : '';

/** Guesses nobody confirmed, each with how sure it is; the way to the other day, and never the two put together. */
function perhapsText(site: Site, perhaps: readonly PerhapsSame[], path: string): string {
  const { gallery, tongue } = site;
  const root = rootOf(site, path);
  const cards = perhaps.flatMap(({ publicId, confidence }) => {
    const rider = gallery.riders.find((one) => one.publicId === publicId);
    if (rider === undefined) return [];
    const image = faceTag(rider.faceId, root, { alt: altOf(site, rider, rider.face), isNear: false });
    return `<li data-perhaps="${publicId}"><a href="${publicId}.html">${image}<span class="who"><span><span class="tabs">${tabsOf(rider.colours)}</span>${xml(tongue.livery(rider.look))}</span><span class="guess">${tongue.html('sure', { sure: outOf100(confidence) })}</span></span><span class="me">${tongue.html('meToo')}</span></a></li>`;
  });
  if (cards.length === 0) return '';
  return `<section class="perhaps" aria-labelledby="perhaps"><h2 id="perhaps">${tongue.html('alsoYou')}</h2>\n<p class="note">${tongue.html('alsoYouWhy')}</p>\n<ul class="riders">\n${cards.join('\n')}\n</ul></section>`;
}

const separatedText = (site: Site, ids: readonly PublicId[]): string =>
  ids.length === 0 ? '' : `<p>${site.tongue.html('separatedHere', { links: linksTo(site, ids) })}</p>`;

function linksTo({ gallery, tongue }: Site, ids: readonly PublicId[]): string {
  const riders = gallery.riders.filter((rider) => ids.includes(rider.publicId));
  const links = riders.map((rider) => {
    const text = tongue.list([tongue.livery(rider.look), tongue.say('picturesCounted', { n: rider.pictures.length })]);
    return `<a class="door" href="${rider.publicId}.html">${xml(text)}</a>`;
  });
  return tongue.list(links);
}

function oldPage(site: Site, old: OldAddress): Page {
  const { tongue } = site;
  const links = linksTo(site, old.to);
  const text = old.kind === 'gone' ? tongue.html('gone') : tongue.html(old.kind, { links });
  const title = tongue.say('changed');
  const body = `<h1>${xml(title)}</h1>\n<p>${text}</p>\n<p><a class="door" href="../index.html">${tongue.html('allRiders')}</a></p>`;
  return pageOf(site, { path: riderPath(old.publicId), title, body });
}
