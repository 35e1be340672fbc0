/** The first page: when were you out, what colour is the bike, a number; and all riders where that is not too many. */
import { xml } from '../core/finish/index.js';
import { clockText } from '../core/handover/index.js';
import type { Gallery, GallerySession } from '../core/handover/types.js';
import { foundUnder } from '../core/measure/index.js';
import type { ColourName } from '../core/measure/types.js';
import { cardsOf, firstSources, slugOf } from './card.js';
import { finderPart } from './finder/finderPart.js';
import { type Page, pageOf, type Site, slugs } from './html.js';

/** More cards than this are spread over several pages, so that no page passes 100 KB. */
export const MOST_CARDS = 120;

/** In this order on every page; neighbours are easily taken for each other. */
export const COLOURS: readonly ColourName[] = [
  'black',
  'grey',
  'silver',
  'white',
  'red',
  'orange',
  'yellow',
  'lime',
  'green',
  'teal',
  'blue',
  'navy',
  'purple',
  'pink',
  'brown',
  'fluorescent yellow',
  'fluorescent orange',
  'fluorescent red',
];

export const coloursOf = (gallery: Gallery): readonly ColourName[] =>
  COLOURS.filter((colour) => gallery.riders.some((rider) => foundUnder(rider.colours).includes(colour)));

/** Page names of sessions, by index; the same in every language. */
export function sessionPaths(gallery: Gallery): ReadonlyMap<number, string> {
  const names = slugs(gallery.sessions.map((session) => session.name));
  return new Map(gallery.sessions.map((session, i) => [session.index, `session-${names[i]}.html`]));
}

export function findPage(site: Site): Page {
  const { gallery, tongue } = site;
  const isOnePage = gallery.riders.length <= MOST_CARDS;
  const n = gallery.riders.length;
  const pictures = new Set(gallery.riders.flatMap((rider) => rider.pictures.map((picture) => picture.id))).size;
  const lead = tongue.html('findLead', {
    riders: tongue.html('ridersCounted', { n }),
    pictures: tongue.html('picturesCounted', { n: pictures }),
  });
  const head = `<h1>${tongue.html('find')}</h1>\n<p class="lead">${n === 0 ? tongue.html('nothingYet') : lead}</p>`;
  const door = `<p><a class="door" href="cannot-find.html">${tongue.html('cannotFind')}</a></p>`;
  const ways = [
    '<div class="find">',
    `<section aria-labelledby="when"><h2 id="when">${tongue.html('whenOut')}</h2>\n${outings(site)}</section>`,
    `<section aria-labelledby="colour"><h2 id="colour">${tongue.html('whatColour')}</h2>\n${colourBoxes(site)}`,
    numberWay(site),
    site.findable ? finderPart(site, site.findable) : '',
    '</section></div>',
    door,
    `<h2 id="all">${tongue.html('riders')}</h2>`,
    isOnePage
      ? `${fitsLine(site)}\n${cardsOf(site, gallery.riders, 'index.html')}`
      : `<p><a class="door" href="riders.html">${tongue.html('allRidersCounted', { n })}</a></p>\n${foundHere}`,
  ];
  return pageOf(site, {
    path: 'index.html',
    title: tongue.say('find'),
    body: [head, ...(n === 0 ? [door] : ways)].join('\n'),
    isFirst: true,
    look: ['bikes', 'cards', 'find', ...(site.findable ? (['form'] as const) : [])],
    script: 'find.js',
    ...(isOnePage ? { early: firstSources(site, gallery.riders, 'index.html') } : {}),
  });
}

const fitsLine = ({ tongue }: Site): string =>
  `<p class="note" id="fits" aria-live="polite">${tongue.html('tapYours')}</p>`;

/** Who fits stands here, where the riders are too many for one page. */
const foundHere = '<p class="note" id="fits" aria-live="polite"></p>\n<ul class="riders"></ul>';

/** A row a group; without groups one row. Sessions nobody is shown in are said, not linked. */
function outings(site: Site): string {
  const { gallery, tongue } = site;
  const paths = sessionPaths(gallery);
  const rows = [
    ...gallery.groups.map((group) => ({
      key: group.key as string | null,
      name: group.name === null ? tongue.html('group', { name: tongue.name(group.key) }) : tongue.name(group.name),
    })),
    { key: null, name: tongue.html('sessions') },
  ]
    .map((row, index) => ({ ...row, index, sessions: gallery.sessions.filter((session) => session.group === row.key) }))
    .filter((row) => row.sessions.length > 0);
  if (rows.length === 0) return `<p class="note">${tongue.html('noSessions')}</p>`;
  const cells = (row: (typeof rows)[number]) =>
    row.sessions
      .map((session, i) => `<td>${outing(site, session, labelOf(session, row.key, i), paths, row.index)}</td>`)
      .join('');
  return `<table class="outings"><tbody>\n${rows.map((row) => `<tr><th scope="row">${row.name}</th>${cells(row)}</tr>`).join('\n')}\n</tbody></table>`;
}

/** Within a group's row the session's own number: 3 for N3; else its whole name. */
const labelOf = (session: GallerySession, group: string | null, index: number): string =>
  group !== null && session.name.startsWith(group)
    ? session.name.slice(group.length) || String(index + 1)
    : session.name;

function outing(
  { tongue }: Site,
  session: GallerySession,
  label: string,
  paths: ReadonlyMap<number, string>,
  row: number,
): string {
  const n = session.riders.length;
  const said = tongue.html('outing', {
    name: tongue.name(session.name),
    time: clockText(session.start),
    riders: n === 0 ? tongue.html('nobodyShown') : tongue.html('ridersCounted', { n }),
  });
  const inside = `${tongue.name(label)}<span class="unseen"> ${said}</span>`;
  if (n === 0) return `<span class="box none">${inside}</span>`;
  return `<a class="box g${Math.min(row, 3)}" href="${paths.get(session.index)}" data-session="${session.index}">${inside}</a>`;
}

function colourBoxes({ gallery, tongue }: Site): string {
  const boxes = coloursOf(gallery).map(
    (colour) =>
      `<li><a class="box" href="colour-${slugOf(colour)}.html" data-colour="${slugOf(colour)}"><span class="tab c-${slugOf(colour)}"></span>${xml(tongue.colour(colour))}</a></li>`,
  );
  return boxes.length === 0 ? '' : `<ul class="colours">\n${boxes.join('\n')}\n</ul>`;
}

/** A field where scripts run, a page of numbers where they do not; and the way back to all riders. */
function numberWay({ gallery, tongue }: Site): string {
  const n = gallery.riders.filter((rider) => rider.number !== null).length;
  const again = `<button type="button" id="clear">${tongue.html('startAgain')}</button><button type="button" id="below" hidden></button>`;
  if (n === 0)
    return `<div class="ask" id="ask" hidden>${again}</div>\n<p class="note">${tongue.html('noNumbers')}</p>`;
  const page = `<p class="note"><a href="numbers.html">${tongue.html('allNumbers', { n })}</a>. ${tongue.html('mostHaveNone')}</p>`;
  const field = `<div class="ask" id="ask" hidden><label for="number">${tongue.html('askNumber')}</label><input id="number" data-find="number" inputmode="numeric" autocomplete="off" placeholder="${tongue.html('anyNumber')}">${again}</div>`;
  return `${field}\n${page}`;
}
