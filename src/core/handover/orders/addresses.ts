/** Where the order service answers, for whoever writes links and forms to it. Addresses handed out stay. */
import type { PublicId } from '../types.js';
import type { Offer } from './types.js';

/** Without the slash at the end that people like to type. */
const rootOf = (shop: string): string => shop.replace(/\/+$/, '');

/** A page with what this picture, or this rider's day, costs; a plain link. */
export const pictureAddress = (shop: string, meeting: Offer['meeting'], picture: PublicId): string =>
  `${rootOf(shop)}/${meeting}/picture/${picture}`;
export const riderAddress = (shop: string, meeting: Offer['meeting'], rider: PublicId): string =>
  `${rootOf(shop)}/${meeting}/rider/${rider}`;

/** Forms of the gallery are posted here. */
export const MESSAGE_KINDS = ['not-me', 'cannot-find-me', 'take-down'] as const;
export type MessageKind = (typeof MESSAGE_KINDS)[number];
export const messageAddress = (shop: string, meeting: Offer['meeting'], kind: MessageKind): string =>
  `${rootOf(shop)}/${meeting}/${kind}`;

/** What such a form may hold; all are texts, and all but one may be left empty. */
export const MESSAGE_FIELDS = [
  'picture',
  'rider',
  'session',
  'about',
  'bike',
  'leathers',
  'number',
  'contact',
  'words',
] as const;
export type MessageField = (typeof MESSAGE_FIELDS)[number];
