/** The first page: when were you out, what colour is the bike, a number; and all riders where that is not too many. */
import { xml } from '../core/finish/index.js';
import { clockText } from '../core/handover/index.js';
import type { Gallery, GallerySession } from '../core/handover/types.js';
import { foundUnder } from '../core/measure/index.js';
import type { ColourName } from '../core/measure/types.js';
import { cardsOf, slugOf } from './card.js';
import { count, type Page, pageOf, slugs } from './html.js';

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

/** Page names of sessions, by index. */
export function sessionPaths(gallery: Gallery): ReadonlyMap<number, string> {
  const names = slugs(gallery.sessions.map((session) => session.name));
  return new Map(gallery.sessions.map((session, i) => [session.index, `session-${names[i]}.html`]));
}

export function findPage(gallery: Gallery): Page {
  const isOnePage = gallery.riders.length <= MOST_CARDS;
  const pictures = new Set(gallery.riders.flatMap((rider) => rider.pictures.map((picture) => picture.id))).size;
  const all = `${count(gallery.riders.length, 'rider')}, ${count(pictures, 'picture')}`;
  const body = [
    '<h1>Find your pictures.</h1>',
    gallery.riders.length === 0
      ? '<p class="lead">There are no pictures here yet.</p>'
      : `<p class="lead">${all}. One tap on one picture of you brings your whole day.</p>`,
    '<div class="find">',
    `<section aria-labelledby="when"><h2 id="when">When were you out?</h2>\n${outings(gallery, isOnePage)}</section>`,
    `<section aria-labelledby="colour"><h2 id="colour">What colour is the bike?</h2>\n${colourBoxes(gallery, isOnePage)}`,
    numberWay(gallery),
    '</section></div>',
    '<h2 id="all">Riders</h2>',
    isOnePage
      ? `<p class="note" id="fits" aria-live="polite">Tap once on yours.</p>\n${cardsOf(gallery.riders, '')}`
      : `<p><a href="riders.html">All riders, ${gallery.riders.length}</a></p>`,
  ].join('\n');
  return pageOf(gallery, {
    path: 'index.html',
    title: 'Find your pictures',
    body,
    isFirst: true,
    ...(isOnePage ? { script: 'find.js' } : {}),
  });
}

/** A row a group; without groups one row. Sessions nobody is shown in are said, not linked. */
function outings(gallery: Gallery, canFilter: boolean): string {
  const paths = sessionPaths(gallery);
  const rows = [
    ...gallery.groups.map((group) => ({ key: group.key as string | null, name: group.name })),
    { key: null, name: 'Sessions' },
  ]
    .map((row, index) => ({ ...row, index, sessions: gallery.sessions.filter((session) => session.group === row.key) }))
    .filter((row) => row.sessions.length > 0);
  if (rows.length === 0) return '<p class="note">No sessions are known of this day.</p>';
  const cells = (row: (typeof rows)[number]) =>
    row.sessions
      .map((session, i) => `<td>${outing(session, labelOf(session, row.key, i), paths, row.index, canFilter)}</td>`)
      .join('');
  return `<table class="outings"><tbody>\n${rows.map((row) => `<tr><th scope="row">${xml(row.name)}</th>${cells(row)}</tr>`).join('\n')}\n</tbody></table>`;
}

/** Within a group's row the session's own number: 3 for N3; else its whole name. */
const labelOf = (session: GallerySession, group: string | null, index: number): string =>
  group !== null && session.name.startsWith(group)
    ? session.name.slice(group.length) || String(index + 1)
    : session.name;

function outing(
  session: GallerySession,
  label: string,
  paths: ReadonlyMap<number, string>,
  row: number,
  canFilter: boolean,
): string {
  const riders = session.riders.length === 0 ? 'nobody shown' : count(session.riders.length, 'rider');
  const said = `<span class="unseen"> session ${xml(session.name)}, ${clockText(session.start)}, ${riders}</span>`;
  if (session.riders.length === 0) return `<span class="box none">${xml(label)}${said}</span>`;
  const data = canFilter ? ` data-session="${session.index}"` : '';
  return `<a class="box g${Math.min(row, 3)}" href="${paths.get(session.index)}"${data}>${xml(label)}${said}</a>`;
}

function colourBoxes(gallery: Gallery, canFilter: boolean): string {
  const boxes = coloursOf(gallery).map((colour) => {
    const data = canFilter ? ` data-colour="${slugOf(colour)}"` : '';
    return `<li><a class="box" href="colour-${slugOf(colour)}.html"${data}><span class="tab c-${slugOf(colour)}"></span>${colour}</a></li>`;
  });
  return `<ul class="colours">\n${boxes.join('\n')}\n</ul>`;
}

/** A field where scripts run, a page of numbers where they do not; and the way back to all riders. */
function numberWay(gallery: Gallery): string {
  const known = gallery.riders.filter((rider) => rider.number !== null).length;
  const again = '<button type="button" id="clear">Start again</button>';
  if (known === 0)
    return `<div class="ask" id="ask" hidden>${again}</div>\n<p class="note">No numbers are known of this day: look by session and colour.</p>`;
  const page = `<p class="note"><a href="numbers.html">All numbers, ${known}</a>. Most bikes at a track day carry none.</p>`;
  const field = `<div class="ask" id="ask" hidden><label for="number">A number on it?</label><input id="number" inputmode="numeric" autocomplete="off" placeholder="any">${again}</div>`;
  return `${field}\n${page}`;
}
