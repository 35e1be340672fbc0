/** Pages that list riders: of a session, of a colour, by number, and all of them where the first page cannot. */
import { xml } from '../core/finish/index.js';
import { clockText } from '../core/handover/index.js';
import type { Gallery, GalleryPicture, GalleryRider, GallerySession } from '../core/handover/types.js';
import { foundUnder, neighboursOf } from '../core/measure/index.js';
import type { ColourName } from '../core/measure/types.js';
import { cardsOf, numberOf, slugOf, tabsOf } from './card.js';
import { coloursOf, MOST_CARDS, sessionPaths } from './findPage.js';
import { count, type Page, pageOf } from './html.js';

export function listPages(gallery: Gallery): readonly Page[] {
  const paths = sessionPaths(gallery);
  return [
    ...gallery.sessions
      .filter((one) => one.riders.length > 0)
      .flatMap((session) => sessionPages(gallery, session, paths.get(session.index)!)),
    ...coloursOf(gallery).flatMap((colour) => colourPages(gallery, colour)),
    ...(gallery.riders.some((rider) => rider.number !== null) ? [numbersPage(gallery)] : []),
    ...(gallery.riders.length > MOST_CARDS ? spread(gallery, 'riders.html', 'All riders', '', gallery.riders) : []),
  ];
}

/** Whether a picture is of several riders: then it tells none of them from the others, and the cut-out face does. */
function sharedIn(gallery: Gallery): (picture: GalleryPicture) => boolean {
  const riders = new Map<string, number>();
  for (const { pictures } of gallery.riders) for (const { id } of pictures) riders.set(id, (riders.get(id) ?? 0) + 1);
  return (picture) => (riders.get(picture.id) ?? 0) > 1;
}

function sessionPages(gallery: Gallery, session: GallerySession, path: string): readonly Page[] {
  const here = new Set(session.riders);
  const riders = gallery.riders.filter((rider) => here.has(rider.publicId));
  const isShared = sharedIn(gallery);
  const title = `Session ${session.name}, ${clockText(session.start)}`;
  const lead = `${count(riders.length, 'rider')}, with a picture of this session wherever one shows them alone. Tap once on yours and the whole day comes.`;
  return spread(
    gallery,
    path,
    title,
    lead,
    riders,
    (rider) => rider.pictures.find((one) => one.session === session.index && !isShared(one)) ?? null,
  );
}

function colourPages(gallery: Gallery, colour: ColourName): readonly Page[] {
  const riders = gallery.riders.filter((rider) => foundUnder(rider.colours).includes(colour));
  const near = coloursOf(gallery).filter((one) => neighboursOf(colour).includes(one));
  const links = near.map((one) => `<a href="colour-${slugOf(one)}.html">${one}</a>`).join(', ');
  const title = `${colour[0]!.toUpperCase()}${colour.slice(1)} bikes`;
  const lead = `${count(riders.length, 'rider')}. Tap once on yours and the whole day comes.`;
  return spread(
    gallery,
    `colour-${slugOf(colour)}.html`,
    title,
    lead,
    riders,
    undefined,
    links && `Not here? Near in colour: ${links}.`,
  );
}

/** Cards over as many pages as they need; the first has the plain name. */
function spread(
  gallery: Gallery,
  path: string,
  title: string,
  lead: string,
  riders: readonly GalleryRider[],
  pictureOf?: (rider: GalleryRider) => GalleryPicture | null,
  after = '',
): readonly Page[] {
  const pages = Math.max(1, Math.ceil(riders.length / MOST_CARDS));
  const nameOf = (n: number) => (n === 0 ? path : path.replace(/\.html$/, `-page-${n + 1}.html`));
  return Array.from({ length: pages }, (_, n) => {
    const part = riders.slice(n * MOST_CARDS, (n + 1) * MOST_CARDS);
    const others = Array.from({ length: pages }, (__, m) =>
      m === n ? `<li aria-current="page">${m + 1}</li>` : `<li><a href="${nameOf(m)}">${m + 1}</a></li>`,
    );
    const nav = pages === 1 ? '' : `<nav aria-label="Pages"><ul class="way">${others.join('')}</ul></nav>`;
    const name = pages === 1 ? title : `${title}, page ${n + 1} of ${pages}`;
    const body = [
      `<h1>${xml(name)}</h1>`,
      lead && `<p class="lead">${xml(lead)}</p>`,
      nav,
      cardsOf(part, '', pictureOf),
      nav,
      after && `<p>${after}</p>`,
    ];
    return pageOf(gallery, { path: nameOf(n), title: name, body: body.filter((line) => line !== '').join('\n') });
  });
}

function numbersPage(gallery: Gallery): Page {
  const numbered = gallery.riders
    .filter((rider) => rider.number !== null)
    .sort((a, b) => a.number!.text.localeCompare(b.number!.text, 'en', { numeric: true }));
  const rows = numbered.map(
    (rider) =>
      `<li><a href="rider/${rider.publicId}.html">${numberOf(rider)} <span class="tabs">${tabsOf(rider.colours)}</span> ${xml(rider.livery)}</a></li>`,
  );
  const without = gallery.riders.length - numbered.length;
  const body = [
    '<h1>Numbers</h1>',
    `<ul class="list">\n${rows.join('\n')}\n</ul>`,
    without === 0
      ? ''
      : `<p class="note">${count(without, 'rider')} without a number: look by <a href="index.html">session or colour</a>.</p>`,
  ];
  return pageOf(gallery, {
    path: 'numbers.html',
    title: 'Numbers',
    body: body.filter((line) => line !== '').join('\n'),
  });
}
