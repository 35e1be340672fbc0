import type { ColourName } from '../../core/measure/types.js';

/**
 * What the gallery says. `{…}` is filled in; what is counted has a form for each of the language's plurals (Unicode CLDR,
 * by `Intl.PluralRules`), of which `other` is always there.
 */
export const en = {
  picturesCounted: { one: '{n} picture', other: '{n} pictures' },
  ridersCounted: { one: '{n} rider', other: '{n} riders' },
  ridersFit: { one: '{n} rider fits. Tap once on yours.', other: '{n} riders fit. Tap once on yours.' },
  ridersWithoutNumber: {
    one: '{n} rider without a number: look by {link}.',
    other: '{n} riders without a number: look by {link}.',
  },
  yourDay: { one: 'Your day, {n} picture.', other: 'Your day, {n} pictures.' },

  find: 'Find your pictures',
  nothingYet: 'There are no pictures here yet.',
  findLead: '{riders}, {pictures}. One tap on one picture of you brings your whole day.',
  whenOut: 'When were you out?',
  whatColour: 'What colour is the bike?',
  riders: 'Riders',
  tapYours: 'Tap once on yours.',
  allRiders: 'All riders',
  allRidersCounted: 'All riders, {n}',
  noSessions: 'No sessions are known of this day.',
  sessions: 'Sessions',
  group: 'Group {name}',
  nobodyShown: 'nobody shown',
  outing: 'session {name}, {time}, {riders}',
  startAgain: 'Start again',
  noNumbers: 'No numbers are known of this day: look by session and colour.',
  numbers: 'Numbers',
  allNumbers: 'All numbers, {n}',
  mostHaveNone: 'Most bikes at a track day carry none.',
  askNumber: 'A number on it?',
  anyNumber: 'any',

  gallery: 'Gallery',
  languages: 'Languages',
  photographsBy: 'Photographs by {name}',
  noFaces: 'Nobody’s face is recognised here. Riders are found by bike, leathers, helmet, number and time of lap.',
  takeDown:
    'To have a picture of you taken down, or if a rider is not the right one, write to {address}; name the page.',
  takeDownAsk: 'To have a picture of you taken down, ask the photographer and name the page.',
  days: '{first} to {last}',

  session: 'Session {name}, {time}',
  sessionLead:
    '{riders}, with a picture of this session wherever one shows them alone. Tap once on yours and the whole day comes.',
  bikesOf: 'Bikes: {colour}',
  listLead: '{riders}. Tap once on yours and the whole day comes.',
  nearColours: 'Not here? Near in colour: {links}.',
  pages: 'Pages',
  pageOf: '{title}, page {n} of {of}',
  sessionOrColour: 'session or colour',

  thatsMe: 'That’s me',
  leathers: '{colour} leathers',
  helmet: '{colour} helmet',
  multicoloured: 'multicoloured ({colours})',
  coloursUnknown: 'colours not known',
  perhapsNumber: 'perhaps {number}, {sure} of 100 sure',
  number: 'number {number}',
  atSpot: 'at {spot}',
  inSession: 'session {name}',
  outside: 'outside the sessions',
  pictures: 'Pictures',
  none: 'none',
  nothingAt: 'Nothing at {spots}: sorry.',
  elsewhere: '{n} from a spot not noted',
  notYou: 'Not you? All riders',
  whichBar: 'Where a picture shows more than one bike, the bar under it is below yours.',
  separatedHere: 'Some pictures that stood here have been separated: they are of another rider. {links}',
  alsoYou: 'May also be you',
  alsoYouWhy: 'These may be the same rider. Nobody has said so, so they stand apart.',
  sure: '{sure} of 100 sure',
  meToo: 'That’s me too',
  orderDay: 'Order the whole day',
  order: 'Order',
  orderPicture: 'Order this picture, {at}',
  notMe: 'Not me',
  notMePicture: 'Not me: this picture, {at}',
  notMeWhy: 'A picture here shows somebody else? “Not me” under it tells the photographer.',
  takeDownForm: 'Have these pictures taken down',
  takeDownWords: 'Which of them, all if you say nothing, and whether they are of you or of your child',
  changed: 'This page has changed',
  moved: 'These pictures are now with all of this rider’s day: {links}',
  separated: 'These pictures have been separated: they are of more than one rider. {links}',
  gone: 'The pictures that stood here are not here any more.',

  cannotFind: 'I can’t find me',
  cannotFindLead: 'Say when you were out and on what. The photographer looks through everything that was taken.',
  askSession: 'Session',
  askAbout: 'About when',
  askBike: 'Colour of the bike',
  askLeathers: 'Colour of the leathers',
  askBikeNumber: 'Number on it, if any',
  askContact: 'Where to answer you: e-mail or telephone',
  askWords: 'Anything else: helmet, who you rode with, a fall',
  unknown: 'I don’t know',
  send: 'Send',
  mailOpens: 'Your own mail program opens with what you filled in. If it does not, write to {address}.',
  writeWeb: 'Write to {address}.',
  noAddress: 'No address is given here: ask the photographer at the track.',
} as const;

type Text = (typeof en)[keyof typeof en];
type Counted = Partial<Record<Intl.LDMLPluralRule, string>> & { readonly other: string };
type SameIn<T extends Text> = T extends string ? string : Counted;

export type Messages = { readonly [Key in keyof typeof en]: SameIn<(typeof en)[Key]> };

export const enColours: Colours = {
  black: 'black',
  grey: 'grey',
  silver: 'silver',
  white: 'white',
  red: 'red',
  orange: 'orange',
  yellow: 'yellow',
  lime: 'lime',
  green: 'green',
  teal: 'teal',
  blue: 'blue',
  navy: 'navy',
  purple: 'purple',
  pink: 'pink',
  brown: 'brown',
  'fluorescent yellow': 'fluorescent yellow',
  'fluorescent orange': 'fluorescent orange',
  'fluorescent red': 'fluorescent red',
};

export type Colours = Readonly<Record<ColourName, string>>;

/** A language's file. */
export interface Words {
  /** Its own name, in itself. */
  readonly name: string;
  readonly messages: Messages;
  readonly colours: Colours;
  /** Where colours change with what they are said of; else as they are. */
  readonly worn?: { readonly leathers?: Colours; readonly helmet?: Colours; readonly bike?: Colours };
  /** Between the parts of a list that is no sentence. */
  readonly comma: string;
}
