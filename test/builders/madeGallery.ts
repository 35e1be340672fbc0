/** A gallery as files, small and without a meeting behind it: an entry, lists, riders in two languages, pictures, a look. */
import { createHash } from 'node:crypto';
import type { MadeFile } from '../../src/core/handover/putUp/index.js';

export interface MadeRider {
  readonly rider: number;
  /** Which pictures, each with what is in it: another version has the same name. */
  readonly pictures: readonly (readonly [picture: number, version: number])[];
  /** The rider whose page this one's address leads to now. */
  readonly movedTo?: number;
}

export interface MadeSpec {
  readonly riders: readonly MadeRider[];
  readonly look?: number;
}

const idOf = (kind: string, n: number): string =>
  createHash('sha256').update(`${kind} ${n}`).digest('hex').slice(0, 32);
export const riderId = (n: number): string => idOf('rider', n);
export const pictureId = (n: number): string => idOf('picture', n);
const faceId = (n: number): string => idOf('face', n);

/** What is taken down with a rider: the page, the face, and the pictures. */
export const idsOfRider = ({ rider, pictures }: MadeRider): readonly string[] => [
  riderId(rider),
  faceId(rider),
  ...pictures.map(([picture]) => pictureId(picture)),
];

export function galleryFiles({ riders, look = 1 }: MadeSpec): ReadonlyMap<string, Buffer> {
  const files = new Map<string, Buffer>();
  const add = (path: string, content: string): void => void files.set(path, Buffer.from(content));
  const picture = (path: string, seed: string, length: number): void =>
    void files.set(path, Buffer.alloc(length, createHash('sha256').update(seed).digest()));
  for (const { rider, pictures, movedTo } of riders) {
    if (movedTo !== undefined) continue;
    picture(`face/${faceId(rider)}.jpg`, `face ${rider} ${pictures[0]?.[1]}`, 30);
    for (const [n, version] of pictures) {
      picture(`proof/${pictureId(n)}.jpg`, `proof ${n} ${version}`, 90);
      picture(`small/${pictureId(n)}.jpg`, `small ${n} ${version}`, 40);
      picture(`small/${pictureId(n)}-400.webp`, `small 400 ${n} ${version}`, 20);
      picture(`small/${pictureId(n)}-800.webp`, `small 800 ${n} ${version}`, 40);
    }
  }
  add('look/gallery.css', `@font-face { src: url("letters.woff2") }\nbody { order: ${look} }\n`);
  picture('look/letters.woff2', 'letters', 50);
  add('look/find.js', `/* ${look} */ fetch('top.txt');\n`);
  add('find/top.txt', `${riders.map(({ rider }) => riderId(rider)).join(' ')}\n`);
  add('robots.txt', 'User-agent: *\nDisallow: /proof/\n');
  for (const language of ['', 'de/']) {
    const root = language === '' ? '' : '../';
    add(`${language}index.html`, page('', root, [countOf(riders), ...cardsOf(riders, root)]));
    add(`${language}riders.html`, page('', root, cardsOf(riders, root)));
    for (const rider of riders)
      add(`${language}rider/${riderId(rider.rider)}.html`, page('../', `../${root}`, dayOf(rider, `../${root}`)));
  }
  return files;
}

/** For core, which reads no disk. */
export function madeFilesOf(files: ReadonlyMap<string, Buffer>): readonly MadeFile[] {
  return [...files].map(([path, content]) => ({
    path,
    bytes: content.length,
    tag: createHash('sha256').update(content).digest('hex'),
    text: /\.(?:html|css|js|txt)$/.test(path) ? content.toString() : null,
  }));
}

const page = (up: string, root: string, body: readonly string[]): string =>
  [
    '<!doctype html>',
    `<link rel="stylesheet" href="${root}look/gallery.css">`,
    `<script src="${root}look/find.js" data-find="${root}find/" defer></script>`,
    `<nav><a href="${up}index.html">First</a> <a href="${up}riders.html">All</a></nav>`,
    ...body,
    '</html>',
    '',
  ].join('\n');

const countOf = (riders: readonly MadeRider[]): string =>
  `<p>${riders.reduce((sum, { pictures }) => sum + pictures.length, 0)} pictures</p>`;

const cardsOf = (riders: readonly MadeRider[], root: string): readonly string[] =>
  riders
    .filter(({ movedTo }) => movedTo === undefined)
    .map(
      ({ rider }) => `<a href="rider/${riderId(rider)}.html"><img src="${root}face/${faceId(rider)}.jpg" alt=""></a>`,
    );

function dayOf({ pictures, movedTo }: MadeRider, root: string): readonly string[] {
  if (movedTo !== undefined) return [`<a href="${riderId(movedTo)}.html">These pictures are here now</a>`];
  return pictures.map(([n]) => {
    const id = pictureId(n);
    const sources = `<source srcset="${root}small/${id}-400.webp 400w, ${root}small/${id}-800.webp 800w">`;
    return `<a href="${root}proof/${id}.jpg">${sources}<img src="${root}small/${id}.jpg" alt=""></a>`;
  });
}
