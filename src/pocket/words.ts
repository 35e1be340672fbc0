/** Every word that the pocket page says. */
import type { PocketDay, PocketLight, PocketSlot, PocketStay, Tap } from '../core/plan/pocket/index.js';

const two = (value: number): string => String(value).padStart(2, '0');

export const clock = (minute: number): string => `${two(Math.floor(minute / 60) % 24)}:${two(Math.floor(minute) % 60)}`;

/** `4:12`; from a hundred minutes on `2 h 05`. */
export function countdown(ms: number): string {
  const seconds = Math.max(0, Math.ceil(ms / 1000));
  if (seconds >= 6000) return `${Math.floor(seconds / 3600)} h ${two(Math.floor(seconds / 60) % 60)}`;
  return `${Math.floor(seconds / 60)}:${two(seconds % 60)}`;
}

const minutes = (value: number): string => `${Math.max(1, Math.round(value))} min`;

const FROM = { front: 'sun behind you', side: 'sun from the side', back: 'sun against you' } as const;

export function light(of: PocketLight): string {
  if (of.kind === 'night') return 'no sun';
  if (of.kind === 'not-known') return 'light not known';
  if (of.kind === 'cloud') return 'covered sky, by your word';
  const low = of.lowFromMin === undefined ? '' : `; low from ${clock(of.lowFromMin)}`;
  return `${FROM[of.from]}, ${of.altitudeDeg}° high${low}`;
}

export const shutter = (figure: number): string => `1/${figure}`;
export const lap = (ms: number): string => `${Math.floor(ms / 60_000)}:${two(Math.floor(ms / 1000) % 60)}`;

export const isOut = (slot: PocketSlot | null, stoppedAtMin: number | null): string => {
  if (slot === null) return 'nobody is out';
  if (stoppedAtMin !== null) return `${slot.name} stopped at ${clock(stoppedAtMin)}`;
  return `${slot.name} is out until ${clock(slot.toMin)}`;
};

export const way = (stay: PocketStay, isTime: boolean): string => {
  const by = stay.wayWords === undefined ? '' : `, ${stay.wayWords}`;
  return isTime
    ? `Go now: ${minutes(stay.wayMin)}${by}`
    : `go at ${clock(stay.fromMin - stay.wayMin)}, ${minutes(stay.wayMin)}${by}`;
};

export const toGet = ({ riders, of, neverSeen }: NonNullable<PocketStay['toGet']>): string =>
  `${riders} of ${of}${neverSeen === 0 ? '' : `, and ${neverSeen} never seen`}`;

export const otherDay = (day: PocketDay, today: number): string =>
  `This plan is for ${dateOf(day.day)}; by this phone it is ${dateOf(today)}.`;

const dateOf = (wall: number): string =>
  new Date(wall).toLocaleDateString('en-GB', { day: 'numeric', month: 'long', year: 'numeric', timeZone: 'UTC' });

export function tapped(tap: Tap, at: (wall: number) => string): string {
  switch (tap.kind) {
    case 'out':
      return `${tap.slot} out at ${at(tap.at)}`;
    case 'late':
      return `${tap.slot} late by ${minutes(tap.byMin)}`;
    case 'red-flag':
      return `Red flag at ${at(tap.at)}`;
    case 'resumed':
      return `Goes on at ${at(tap.at)}`;
    case 'got':
      return `Got ${tap.number ?? 'a rider'} at ${at(tap.at)}`;
  }
}

export const WORDS = {
  title: 'Tyrewall, beside the track',
  noDay: 'No day is here yet.',
  howToGetOne:
    'On the laptop open the plan, say Pocket page, and scan its code with this phone’s camera; or open the file it saved.',
  openFile: 'Open a file',
  openOther: 'Another day',
  sure: 'sure',
  thenSlow: 'then slow',
  listDone: 'list done, then slow',
  next: 'next',
  goesOut: 'goes out',
  ends: 'is out, ends',
  stopped: 'is stopped',
  nobodyUnderRed: 'say when it goes on, or who is out',
  at: 'at',
  to: 'to',
  planIsOver: 'The plan is over. Hand back what was tapped.',
  noSession: 'no session here',
  sighting: 'sighting laps',
  afterThat: 'After that',
  stillToGet: 'Still to get here',
  nothingToGet: 'Nobody to look for here.',
  allGot: 'All on the list are got.',
  got: 'Got',
  you: 'you',
  inNoFrame: 'in no frame',
  notSeen: 'not seen today',
  noNumber: 'no number',
  lap: 'lap',
  out: 'out',
  late: 'late',
  redFlag: 'Red flag',
  goesOn: 'Goes on',
  nobodyOut: 'Nobody is out, so nothing can be stopped.',
  takeBack: 'Take back',
  takenBack: 'taken back',
  day: 'Day so far and to come',
  more: 'More',
  clockCard: 'Clock card',
  handBack: 'Hand back',
  back: 'Back',
  whichBody: 'Which body photographs it?',
  body: 'Body',
  photograph:
    'Photograph this once with each body, as large as it goes. It sets that body’s clock and parts the sessions.',
  showLaptop: 'Show this to the laptop’s camera, or save a file and bring it over.',
  tooManyTaps: 'There is more than one code holds. Save the file instead.',
  saveFile: 'Save a file',
  nothingTapped: 'Nothing was tapped yet.',
  tappedHere: 'Tapped here',
  notKept: 'This browser keeps nothing: what is tapped is lost when the page is closed. Hand back before that.',
  caution: 'Marshals and the circuit’s rules come first.',
} as const;
