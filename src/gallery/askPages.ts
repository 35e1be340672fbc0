/**
 * "I can't find me" and "not me", without scripts: forms to the order service where one is known, else mail to the
 * photographer. Fields are the service's own (`MESSAGE_FIELDS`).
 */
import { xml } from '../core/finish/index.js';
import { clockText } from '../core/handover/index.js';
import { type MessageField, type MessageKind, messageAddress } from '../core/handover/orders/index.js';
import type { GalleryPicture, GalleryRider, GallerySession } from '../core/handover/types.js';
import type { ColourName } from '../core/measure/types.js';
import { COLOURS } from './findPage.js';
import { addressOf, mailOf, type Page, pageOf, type Shop, type Site } from './html.js';
import type { Tongue } from './words/index.js';

/** What the page it is asked on already says. */
interface Known {
  readonly session?: GallerySession;
  readonly colour?: ColourName;
}

export function cannotFindPage(site: Site): Page {
  const { tongue } = site;
  const title = tongue.say('cannotFind');
  const body = `<h1>${xml(title)}</h1>\n<p class="lead">${tongue.html('cannotFindLead')}</p>\n${cannotFindForm(site, {})}`;
  return pageOf(site, { path: 'cannot-find.html', title, body, look: ['form'] });
}

/** Under a list in which somebody was not; opens without a script. */
export const cannotFindFolded = (site: Site, known: Known): string =>
  `<details class="fold"><summary>${site.tongue.html('cannotFind')}</summary>\n<p>${site.tongue.html('cannotFindLead')}</p>\n${cannotFindForm(site, known)}\n</details>`;

function cannotFindForm(site: Site, known: Known): string {
  const { gallery, tongue } = site;
  const target = targetOf(site, tongue.say('cannotFind'));
  if (target === null) return `<p>${elseWhere(site)}</p>`;
  const session = known.session && sessionText(known.session);
  const sessions = gallery.sessions.map((one) => ({ value: sessionText(one), said: sessionText(one) }));
  const colours = COLOURS.map((colour) => ({ value: colour, said: tongue.colour(colour) }));
  const choose = (name: MessageField, label: string, options: readonly Option[], chosen?: string) =>
    field(name, label, selectOf(name, [{ value: '', said: tongue.say('unknown') }, ...options], chosen));
  const type = (name: MessageField, label: string, more = '') =>
    field(name, label, `<input id="f-${name}" name="${name}" maxlength="120"${more}>`);
  return [
    `<form class="form" method="post" ${target}>`,
    sessions.length === 0 ? '' : choose('session', tongue.html('askSession'), sessions, session),
    type('about', tongue.html('askAbout'), ' type="time"'),
    choose('bike', tongue.html('askBike'), colours, known.colour),
    choose('leathers', tongue.html('askLeathers'), colours),
    type('number', tongue.html('askBikeNumber'), ' inputmode="numeric"'),
    type('contact', tongue.html('askContact'), ' autocomplete="email" required'),
    field(
      'words',
      tongue.html('askWords'),
      '<textarea id="f-words" name="words" rows="3" maxlength="1000"></textarea>',
    ),
    `<button>${tongue.html('send')}</button>`,
    '</form>',
    mailNote(site, [session, known.colour && tongue.colour(known.colour)]),
  ]
    .filter((line) => line !== '')
    .join('\n');
}

const sessionText = ({ name, start }: GallerySession): string => `${name}, ${clockText(start)}`;

interface Option {
  readonly value: string;
  readonly said: string;
}

const field = (name: MessageField, label: string, input: string): string =>
  `<p><label for="f-${name}">${label}</label>${input}</p>`;

function selectOf(name: MessageField, options: readonly Option[], chosen = ''): string {
  const items = options.map(
    ({ value, said }) => `<option value="${xml(value)}"${value === chosen ? ' selected' : ''}>${xml(said)}</option>`,
  );
  return `<select id="f-${name}" name="${name}">${items.join('')}</select>`;
}

/**
 * Where a form goes. To a mail address by the HTML standard's own rule ("mail as body", form submission), as plain text;
 * null where there is neither.
 */
function targetOf({ gallery, shop, tongue }: Site, subject: string): string | null {
  if (shop) return `action="${messageTo(shop, tongue, 'cannot-find-me')}"`;
  const mail = mailOf(gallery);
  return mail && `action="${mailto(mail, `${subject}: ${gallery.title}`)}" enctype="text/plain"`;
}

const mailto = (mail: string, subject: string, body?: string): string =>
  xml(
    `mailto:${mail}?subject=${encodeURIComponent(subject)}${body === undefined ? '' : `&body=${encodeURIComponent(body)}`}`,
  );

/** Answered in the page's language. */
const messageTo = ({ address, meeting }: Shop, { language }: Tongue, kind: MessageKind): string =>
  xml(`${messageAddress(address, meeting, kind)}?language=${language}`);

/** Where no mail program opens from a form, a link with what the page knows. */
function mailNote({ gallery, tongue, shop }: Site, known: readonly (string | undefined)[]): string {
  const mail = mailOf(gallery);
  if (shop || mail === null) return '';
  const body = known.filter((one) => one !== undefined).join('\n');
  const link = `<a href="${mailto(mail, `${tongue.say('cannotFind')}: ${gallery.title}`, body)}">${xml(mail)}</a>`;
  return `<p class="note">${tongue.html('mailOpens', { address: link })}</p>`;
}

const elseWhere = ({ gallery, tongue }: Site): string =>
  gallery.contact === null
    ? tongue.html('noAddress')
    : tongue.html('writeWeb', { address: addressOf(gallery.contact) });

/** The one form all "not me" of a rider's page are sent by; empty where there is no service. */
export const notMeForm = ({ shop, tongue }: Site, rider: GalleryRider): string =>
  shop === null
    ? ''
    : `<form id="not-me" method="post" action="${messageTo(shop, tongue, 'not-me')}"><input type="hidden" name="rider" value="${rider.publicId}"></form>`;

/** For the rider, or the parent of one: on the page it is about, so that nobody has to name it. Empty where there is no service. */
export function takeDownFolded({ shop, tongue }: Site, rider: GalleryRider): string {
  if (shop === null) return '';
  const contact = field(
    'contact',
    tongue.html('askContact'),
    '<input id="f-contact" name="contact" maxlength="120" autocomplete="email" required>',
  );
  const words = field(
    'words',
    tongue.html('takeDownWords'),
    '<textarea id="f-words" name="words" rows="3" maxlength="1000"></textarea>',
  );
  return `<details class="fold"><summary>${tongue.html('takeDownForm')}</summary>\n<form class="form" method="post" action="${messageTo(shop, tongue, 'take-down')}"><input type="hidden" name="rider" value="${rider.publicId}">\n${contact}\n${words}\n<button>${tongue.html('send')}</button>\n</form>\n</details>`;
}

/** Under a picture; `at` says which picture, to those who cannot see it stands under it. */
export function notMeWay(site: Site, rider: GalleryRider, picture: GalleryPicture, at: string): string {
  const { gallery, tongue, shop } = site;
  const said = xml(tongue.say('notMePicture', { at }));
  if (shop)
    return `<button form="not-me" name="picture" value="${picture.id}" aria-label="${said}">${tongue.html('notMe')}</button>`;
  const mail = mailOf(gallery);
  if (mail === null) return '';
  const subject = `${tongue.say('notMe')}: ${gallery.title}`;
  const body = `${tongue.livery(rider.look)}\n${at}\n${picture.id}\n${rider.publicId}`;
  return `<a href="${mailto(mail, subject, body)}" aria-label="${said}">${tongue.html('notMe')}</a>`;
}

/** Whether there is anybody to tell. */
export const canTell = ({ gallery, shop }: Site): boolean => shop !== null || mailOf(gallery) !== null;
