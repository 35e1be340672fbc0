/** The frame every page of the public gallery stands in. No address leaves the site; nothing is asked of others. */
import { xml } from '../core/finish/index.js';
import type { Gallery } from '../core/handover/types.js';

/** A page, ready to be written. `path` is from the gallery's root. */
export interface Page {
  readonly path: string;
  readonly html: string;
}

export interface PageSpec {
  readonly path: string;
  readonly title: string;
  readonly body: string;
  /** Pages other than the first show the way back to it. */
  readonly isFirst?: boolean;
  readonly script?: string;
}

/** From a page's folder to the gallery's root. */
export const rootOf = (path: string): string => '../'.repeat(path.split('/').length - 1);

const POLICY =
  "default-src 'none'; img-src 'self' data:; style-src 'self'; script-src 'self'; font-src 'self'; base-uri 'none'; form-action 'none'";

export function pageOf(gallery: Gallery, spec: PageSpec): Page {
  const root = rootOf(spec.path);
  const heading = `${gallery.title}, ${dayText(gallery)}`;
  const title = spec.isFirst ? heading : `${spec.title} – ${heading}`;
  const html = [
    '<!doctype html>',
    '<html lang="en">',
    '<head>',
    '<meta charset="utf-8">',
    `<meta http-equiv="Content-Security-Policy" content="${POLICY}">`,
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    '<meta name="robots" content="noindex, nofollow, noarchive, noimageindex">',
    '<meta name="referrer" content="no-referrer">',
    `<title>${xml(title)}</title>`,
    '<link rel="icon" href="data:,">',
    `<link rel="stylesheet" href="${root}look/gallery.css">`,
    ...(spec.script === undefined ? [] : [`<script src="${root}look/${spec.script}" defer></script>`]),
    '</head>',
    '<body>',
    mastOf(gallery, root, heading, spec.isFirst ?? false),
    `<main>\n${spec.body}\n</main>`,
    footOf(gallery),
    '</body>',
    '</html>',
    '',
  ].join('\n');
  return { path: spec.path, html };
}

function mastOf(gallery: Gallery, root: string, heading: string, isFirst: boolean): string {
  const by = [
    gallery.circuit === null || gallery.title.includes(gallery.circuit) ? null : gallery.circuit,
    gallery.credit === null ? null : `Photographs by ${gallery.credit}`,
  ].filter((part) => part !== null);
  const hasNumbers = gallery.riders.some((rider) => rider.number !== null);
  const numbers = hasNumbers ? `<li><a href="${root}numbers.html">Numbers</a></li>` : '';
  const way = isFirst
    ? ''
    : `\n<nav aria-label="Gallery"><ul class="way"><li><a href="${root}index.html">All riders</a></li>${numbers}</ul></nav>`;
  const title = isFirst
    ? `<p class="meeting">${xml(heading)}</p>`
    : `<a class="meeting" href="${root}index.html">${xml(heading)}</a>`;
  return `<header><div class="mast">${title}${by.length === 0 ? '' : `<p class="by">${xml(by.join('. '))}.</p>`}</div>${way}</header>`;
}

function footOf(gallery: Gallery): string {
  const address = gallery.contact === null ? null : addressOf(gallery.contact);
  const down = address
    ? `To have a picture of you taken down, or if a rider is not the right one, write to ${address}; name the page.`
    : 'To have a picture of you taken down, ask the photographer and name the page.';
  return [
    '<footer>',
    '<p class="word">Nobody’s face is recognised here. Riders are found by bike, leathers, helmet, number and time of lap.</p>',
    `<p class="word">${down}</p>`,
    '</footer>',
  ].join('\n');
}

/** An address becomes a link only when it plainly is one; anything else is shown as it was written. */
function addressOf(contact: string): string {
  if (/^[^\s@<>"]+@[^\s@<>"]+$/.test(contact)) return `<a href="mailto:${xml(contact)}">${xml(contact)}</a>`;
  if (/^https?:\/\/[^\s<>"]+$/.test(contact)) return `<a href="${xml(contact)}" rel="noreferrer">${xml(contact)}</a>`;
  return xml(contact);
}

/** `Saturday 19 September 2026`, or `19–20 September 2026`-like for several days. */
export function dayText({ firstDay, lastDay }: Pick<Gallery, 'firstDay' | 'lastDay'>): string {
  const of = (day: string, options: Intl.DateTimeFormatOptions) =>
    new Intl.DateTimeFormat('en-GB', { timeZone: 'UTC', ...options }).format(new Date(`${day}T00:00:00Z`));
  const full = { day: 'numeric', month: 'long', year: 'numeric' } as const;
  // The comma British English now puts behind the weekday reads badly inside a sentence.
  if (firstDay === lastDay) return of(firstDay, { weekday: 'long', ...full }).replace(',', '');
  return `${of(firstDay, full)} to ${of(lastDay, full)}`;
}

/** "1 picture", "12 pictures". */
export const count = (n: number, word: string): string => `${n} ${word}${n === 1 ? '' : 's'}`;

/** Names for files from names of things: letters and digits only, told apart where two would be one. */
export function slugs(names: readonly string[]): readonly string[] {
  const used = new Set<string>();
  return names.map((name) => {
    const plain =
      name
        .normalize('NFD')
        .toLowerCase()
        .replace(/[^a-z0-9]+/g, '-')
        .replace(/^-+|-+$/g, '') || 'x';
    let slug = plain;
    for (let n = 2; used.has(slug); n++) slug = `${plain}-${n}`;
    used.add(slug);
    return slug;
  });
}
