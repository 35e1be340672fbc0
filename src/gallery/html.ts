/** The frame every page of the public gallery stands in. Nothing is asked of others; only forms and links leave the site. */
import { xml } from '../core/finish/index.js';
import { PRIVACY_TITLE } from '../core/handover/law/index.js';
import type { Gallery, PublicId } from '../core/handover/types.js';
import type { Findable } from './finder/finderPart.js';
import type { Sources } from './pictures.js';
import { folderOf, isRightToLeft, LANGUAGES, type Tongue, wordsOf } from './words/index.js';

/** A page, ready to be written. `path` is from the gallery's root. */
export interface Page {
  readonly path: string;
  readonly html: string;
}

/** The order service, where one is known: its address, and what it calls the meeting. */
export interface Shop {
  readonly address: string;
  readonly meeting: PublicId;
}

/** Parts of the look that not every page wants. */
type LookPart = 'bikes' | 'cards' | 'find' | 'form' | 'day';

/** The look as part of each page: a phone with poor signal waits for one answer instead of two. */
export interface Style {
  readonly css: Readonly<Record<LookPart | 'base' | 'gallery', string>>;
  /** SHA-256 in base64, by which the page's own policy knows the style (CSP Level 3, hash sources). */
  readonly hashOf: (text: string) => string;
}

/** The gallery in one language. */
export interface Site {
  readonly gallery: Gallery;
  readonly tongue: Tongue;
  /** The one whose pages lie at the root. */
  readonly home: Tongue['language'];
  readonly shop: Shop | null;
  /** So many days the gallery is up. */
  readonly keptDays: number;
  /** Without one pages have no look. */
  readonly style?: Style;
  /** Of the index that lies beside the pages; absent where none does. */
  readonly findable?: Findable;
}

export interface PageSpec {
  /** From the language's own folder; the same in all of them. */
  readonly path: string;
  readonly title: string;
  readonly body: string;
  /** Pages other than the first show the way back to it. */
  readonly isFirst?: boolean;
  /** What it is dressed in beside what all pages are. */
  readonly look?: readonly LookPart[];
  readonly script?: string;
  /** The first picture, fetched while the page itself still comes. */
  readonly early?: Sources | null;
}

/** From a page to the first page of its language. */
export const homeOf = (path: string): string => '../'.repeat(path.split('/').length - 1);
/** From a page to the gallery's root, where the pictures are. */
export const rootOf = ({ tongue }: Site, path: string): string => homeOf(tongue.folder + path);

export function pageOf(site: Site, spec: PageSpec): Page {
  const { gallery, tongue } = site;
  const root = rootOf(site, spec.path);
  const heading = tongue.list([gallery.title, dayText(site)]);
  const title = spec.isFirst ? heading : `${spec.title} – ${heading}`;
  const { language } = tongue;
  const style = styleOf(site, root, spec.look ?? []);
  const html = [
    '<!doctype html>',
    `<html lang="${language}" dir="${isRightToLeft(language) ? 'rtl' : 'ltr'}">`,
    '<head>',
    '<meta charset="utf-8">',
    `<meta http-equiv="Content-Security-Policy" content="${xml(policyOf(site, style?.hash ?? null))}">`,
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    '<meta name="robots" content="noindex, nofollow, noarchive, noimageindex">',
    '<meta name="referrer" content="no-referrer">',
    `<title>${xml(title)}</title>`,
    '<link rel="icon" href="data:,">',
    // Before the style, which takes a phone a tenth of a second to fetch.
    ...(spec.early ? [preloadOf(spec.early)] : []),
    ...(style ? [`<style>${style.text}</style>`] : []),
    '</head>',
    '<body>',
    mastOf(site, spec),
    `<main>\n${spec.body}\n</main>`,
    footOf(site, spec.path),
    // Last, so that it takes nothing from the first picture.
    ...(spec.script === undefined ? [] : [`<script src="${root}look/${spec.script}"></script>`]),
    '</body>',
    '</html>',
    '',
  ].join('\n');
  return { path: tongue.folder + spec.path, html };
}

/** No address leaves the site but what forms are sent to. */
function policyOf({ gallery, shop }: Site, hash: string | null): string {
  const service = shop === null ? '' : ` ${new URL(shop.address).origin}`;
  const to = service || (mailOf(gallery) ? ' mailto:' : " 'none'");
  return `default-src 'none'; img-src 'self' data:; style-src 'self'${hash === null ? '' : ` 'sha256-${hash}'`}; script-src 'self'; connect-src 'self'${service}; font-src 'self'; base-uri 'none'; form-action${to}`;
}

interface PageStyle {
  readonly text: string;
  readonly hash: string;
}

/** Worked out once for each depth of folder, as letters are named from the page, and each choice of parts. */
const styles = new WeakMap<Style, Map<string, PageStyle>>();

function styleOf({ style }: Site, root: string, parts: readonly LookPart[]): PageStyle | null {
  if (style === undefined) return null;
  const known = styles.get(style) ?? new Map<string, PageStyle>();
  styles.set(style, known);
  const key = [root, ...parts].join(' ');
  const found = known.get(key);
  if (found) return found;
  const css = (['base', 'gallery', ...parts] as const).map((part) => tight(style.css[part])).join('');
  const text = css.replaceAll('url("', `url("${root}look/`);
  const made = { text, hash: style.hashOf(text) };
  known.set(key, made);
  return made;
}

/** Without comments and the room a person needs between words. */
const tight = (css: string): string =>
  css
    .replace(/\/\*[\s\S]*?\*\//g, '')
    .replace(/\s+/g, ' ')
    .replace(/ ?([{};,]) ?/g, '$1')
    .replace(/: /g, ':')
    .replace(/;\}/g, '}')
    .trim();

const preloadOf = ({ type, srcset, sizes }: Sources): string =>
  `<link rel="preload" as="image" type="${type}" imagesrcset="${srcset}"${sizes === null ? '' : ` imagesizes="${sizes}"`} fetchpriority="high">`;

/** The same page in another language. */
function inLanguage(site: Site, path: string, language: Tongue['language']): string {
  return `${rootOf(site, path)}${folderOf(language, site.home)}${path}`;
}

function mastOf(site: Site, { path, isFirst = false }: PageSpec): string {
  const { gallery, tongue } = site;
  const home = homeOf(path);
  const heading = `${tongue.name(gallery.title)}${wordsOf[tongue.language].comma}${xml(dayText(site))}`;
  const by = [
    gallery.circuit === null || gallery.title.includes(gallery.circuit) ? null : tongue.name(gallery.circuit),
    gallery.credit === null ? null : tongue.html('photographsBy', { name: tongue.name(gallery.credit) }),
  ].filter((part) => part !== null);
  const hasNumbers = gallery.riders.some((rider) => rider.number !== null);
  const numbers = hasNumbers ? `<li><a href="${home}numbers.html">${tongue.html('numbers')}</a></li>` : '';
  const way = isFirst
    ? ''
    : `\n<nav aria-label="${tongue.html('gallery')}"><ul class="way"><li><a href="${home}index.html">${tongue.html('allRiders')}</a></li>${numbers}<li><a href="${home}cannot-find.html">${tongue.html('cannotFind')}</a></li></ul></nav>`;
  const title = isFirst
    ? `<p class="meeting">${heading}</p>`
    : `<a class="meeting" href="${home}index.html"><span>${heading}</span></a>`;
  return `<header><div class="mast">${title}${by.length === 0 ? '' : `<p class="by">${by.join('. ')}.</p>`}</div>${way}\n${languagesOf(site, path)}</header>`;
}

/** Each in its own words. */
function languagesOf(site: Site, path: string): string {
  const items = LANGUAGES.map((one) =>
    one === site.tongue.language
      ? `<li aria-current="true">${wordsOf[one].name}</li>`
      : `<li><a lang="${one}" hreflang="${one}" href="${inLanguage(site, path, one)}">${wordsOf[one].name}</a></li>`,
  );
  return `<nav aria-label="${site.tongue.html('languages')}"><ul class="tongues">${items.join('')}</ul></nav>`;
}

function footOf({ gallery, tongue }: Site, path: string): string {
  const down =
    gallery.contact === null
      ? tongue.html('takeDownAsk')
      : tongue.html('takeDown', { address: addressOf(gallery.contact) });
  const privacy = `<a href="${homeOf(path)}privacy.html">${xml(PRIVACY_TITLE[tongue.language])}</a>`;
  return [
    '<footer>',
    `<p class="word">${tongue.html('noFaces')}</p>`,
    `<p class="word">${down}</p>`,
    `<p class="word">${privacy}</p>`,
    '</footer>',
  ].join('\n');
}

/** The photographer's mail address, where the contact plainly is one. */
export const mailOf = ({ contact }: Pick<Gallery, 'contact'>): string | null =>
  contact !== null && /^[^\s@<>"?&]+@[^\s@<>"?&]+$/.test(contact) ? contact : null;

/** An address becomes a link only when it plainly is one; anything else is shown as it was written. */
export function addressOf(contact: string): string {
  if (mailOf({ contact })) return `<a href="mailto:${xml(contact)}">${xml(contact)}</a>`;
  if (/^https?:\/\/[^\s<>"]+$/.test(contact)) return `<a href="${xml(contact)}" rel="noreferrer">${xml(contact)}</a>`;
  return `<bdi>${xml(contact)}</bdi>`;
}

/** `Saturday 19 September 2026`, or from one day to the other. */
function dayText({ gallery: { firstDay, lastDay }, tongue }: Site): string {
  if (firstDay === lastDay) return tongue.day(firstDay, true);
  return tongue.say('days', { first: tongue.day(firstDay, false), last: tongue.day(lastDay, false) });
}

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
