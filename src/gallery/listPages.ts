/** Pages that list riders: of a session, of a colour, by number, and all of them where the first page cannot. */
import { xml } from '../core/finish/index.js';
import { clockText } from '../core/handover/index.js';
import type { Gallery, GalleryPicture, GalleryRider, GallerySession } from '../core/handover/types.js';
import { foundUnder, neighboursOf } from '../core/measure/index.js';
import type { ColourName } from '../core/measure/types.js';
import { cannotFindFolded } from './askPages.js';
import { cardsOf, firstSources, numberOf, slugOf, tabsOf } from './card.js';
import { coloursOf, MOST_CARDS, sessionPaths } from './findPage.js';
import { type Page, pageOf, type Site } from './html.js';

export function listPages(site: Site): readonly Page[] {
  const { gallery, tongue } = site;
  const paths = sessionPaths(gallery);
  const all = { path: 'riders.html', title: tongue.say('allRiders'), lead: '', riders: gallery.riders };
  return [
    ...gallery.sessions
      .filter((one) => one.riders.length > 0)
      .flatMap((session) => sessionPages(site, session, paths.get(session.index)!)),
    ...coloursOf(gallery).flatMap((colour) => colourPages(site, colour)),
    ...(gallery.riders.some((rider) => rider.number !== null) ? [numbersPage(site)] : []),
    ...(gallery.riders.length > MOST_CARDS ? spread(site, all) : []),
  ];
}

/** Whether a picture is of several bikes: then it tells none of them from the others, and the cut-out face does. */
function severalIn(gallery: Gallery): (picture: GalleryPicture) => boolean {
  const riders = new Map<string, number>();
  for (const { pictures } of gallery.riders) for (const { id } of pictures) riders.set(id, (riders.get(id) ?? 0) + 1);
  return ({ id, isShared }) => isShared || (riders.get(id) ?? 0) > 1;
}

function sessionPages(site: Site, session: GallerySession, path: string): readonly Page[] {
  const { gallery, tongue } = site;
  const here = new Set(session.riders);
  const riders = gallery.riders.filter((rider) => here.has(rider.publicId));
  const isOfSeveral = severalIn(gallery);
  return spread(site, {
    path,
    title: tongue.say('session', { name: session.name, time: clockText(session.start) }),
    lead: tongue.html('sessionLead', { riders: tongue.html('ridersCounted', { n: riders.length }) }),
    riders,
    pictureOf: (rider) => rider.pictures.find((one) => one.session === session.index && !isOfSeveral(one)) ?? null,
    after: cannotFindFolded(site, { session }),
  });
}

function colourPages(site: Site, colour: ColourName): readonly Page[] {
  const { gallery, tongue } = site;
  const riders = gallery.riders.filter((rider) => foundUnder(rider.colours).includes(colour));
  const near = coloursOf(gallery).filter((one) => neighboursOf(colour).includes(one));
  const links = near.map((one) => `<a class="door" href="colour-${slugOf(one)}.html">${xml(tongue.colour(one))}</a>`);
  return spread(site, {
    path: `colour-${slugOf(colour)}.html`,
    title: tongue.say('bikesOf', { colour: tongue.colour(colour) }),
    lead: tongue.html('listLead', { riders: tongue.html('ridersCounted', { n: riders.length }) }),
    riders,
    after: [
      links.length === 0 ? '' : `<p>${tongue.html('nearColours', { links: tongue.list(links) })}</p>\n`,
      cannotFindFolded(site, { colour }),
    ].join(''),
  });
}

interface ListSpec {
  readonly path: string;
  readonly title: string;
  /** HTML, as is what comes after the cards. */
  readonly lead: string;
  readonly riders: readonly GalleryRider[];
  readonly pictureOf?: (rider: GalleryRider) => GalleryPicture | null;
  readonly after?: string;
}

/** Fewer than on the first page: with a picture of the session each card says more, and no page passes 100 KB. */
const MOST_LISTED = 100;

/** Cards over as many pages as they need; the first has the plain name. */
function spread(site: Site, { path, title, lead, riders, pictureOf, after = '' }: ListSpec): readonly Page[] {
  const { tongue } = site;
  const pages = Math.max(1, Math.ceil(riders.length / MOST_LISTED));
  const nameOf = (n: number) => (n === 0 ? path : path.replace(/\.html$/, `-page-${n + 1}.html`));
  return Array.from({ length: pages }, (_, n) => {
    const part = riders.slice(n * MOST_LISTED, (n + 1) * MOST_LISTED);
    const others = Array.from({ length: pages }, (__, m) =>
      m === n ? `<li aria-current="page">${m + 1}</li>` : `<li><a href="${nameOf(m)}">${m + 1}</a></li>`,
    );
    const nav = (place: number) =>
      pages === 1
        ? ''
        : `<nav aria-label="${tongue.html('pages')} ${place}"><ul class="way">${others.join('')}</ul></nav>`;
    const name = pages === 1 ? title : tongue.say('pageOf', { title, n: n + 1, of: pages });
    const body = [
      `<h1>${xml(name)}</h1>`,
      lead && `<p class="lead">${lead}</p>`,
      nav(1),
      cardsOf(site, part, path, pictureOf),
      nav(2),
      after,
    ];
    return pageOf(site, {
      path: nameOf(n),
      title: name,
      body: body.filter((line) => line !== '').join('\n'),
      look: ['bikes', 'cards', 'form'],
      early: firstSources(site, part, path, pictureOf),
    });
  });
}

function numbersPage(site: Site): Page {
  const { gallery, tongue } = site;
  const numbered = gallery.riders
    .filter((rider) => rider.number !== null)
    .sort((a, b) => a.number!.text.localeCompare(b.number!.text, 'en', { numeric: true }));
  const rows = numbered.map(
    (rider) =>
      `<li><a href="rider/${rider.publicId}.html">${numberOf(site, rider)} <span class="tabs">${tabsOf(rider.colours)}</span> ${xml(tongue.livery(rider.look))}</a></li>`,
  );
  const n = gallery.riders.length - numbered.length;
  const link = `<a href="index.html">${tongue.html('sessionOrColour')}</a>`;
  const body = [
    `<h1>${tongue.html('numbers')}</h1>`,
    `<ul class="list">\n${rows.join('\n')}\n</ul>`,
    n === 0 ? '' : `<p class="note">${tongue.html('ridersWithoutNumber', { n, link })}</p>`,
  ];
  return pageOf(site, {
    path: 'numbers.html',
    title: tongue.say('numbers'),
    body: body.filter((line) => line !== '').join('\n'),
    look: ['bikes', 'cards'],
  });
}
