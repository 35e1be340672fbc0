/** `tyrewall cards <meeting>`: what clock and number cards in pictures say, taken with --take; and number cards to print. */
import { mkdir, writeFile } from 'node:fs/promises';
import { dirname } from 'node:path';
import type { Decision } from '../core/log/types.js';
import { meaningOf } from '../host/bringin/index.js';
import {
  type ClockByCard,
  cardsOfMeeting,
  clocksByCards,
  numberCardToken,
  type RiderByCard,
  ridersByCards,
} from '../host/cards/index.js';
import { meetingSecret } from '../host/gallery/index.js';
import { cardSheetPdf } from '../host/plan/paper/cardSheetPdf.js';
import { bodyWords, spanWords } from '../server/index.js';
import { CliError } from './cliError.js';
import { openWholeDay } from './openWholeDay.js';
import { type MeetingWish, sayDecisions } from './sayDecisions.js';
import { clockOf, counted, onOneLine } from './words.js';

export interface CardsWish extends MeetingWish {
  readonly take?: boolean;
  /** `1-40`. */
  readonly print?: string;
  readonly pdf?: string;
  /** The gallery's address, for riders' phones. */
  readonly gallery?: string;
}

type Say = (line: string) => void;

export async function cardsCommand(folder: string, wish: CardsWish, say: Say = console.log): Promise<void> {
  const state = wish.stateRoot === undefined ? {} : { stateRoot: wish.stateRoot };
  if (wish.print !== undefined) return printCards(folder, wish.print, wish, say);
  const whole = await openWholeDay(folder, { isForLooking: true, ...state });
  const [day, cards] = await Promise.all([
    whole.day.settled(),
    cardsOfMeeting(whole.meeting.folder, whole.meeting.people),
  ]).finally(() => whole.close());
  const clocks = clocksByCards(day);
  const riders = cards === null ? { proposals: [], notes: [] } : ridersByCards(day, cards);
  for (const clock of clocks.proposals) say(onOneLine(clockWords(clock)));
  for (const rider of riders.proposals) say(onOneLine(riderWords(rider, cards?.nameOf(rider.card) ?? null)));
  for (const note of [...clocks.notes, ...riders.notes]) say(`! ${onOneLine(note)}`);
  if (clocks.proposals.length + riders.proposals.length === 0)
    return say('No card of this meeting was read in a picture.');
  const open = [...clocks.proposals, ...riders.proposals].filter(({ is }) => is === 'asked');
  if (open.length === 0) return;
  if (wish.take !== true)
    return say(`${counted(open.length, 'answer')} open: take them with --take, or one by one at the desk.`);
  for (const one of open) await sayDecisions(folder, state, decisionsOf(one));
  say(`${counted(open.length, 'card')} taken.`);
}

const IS = { asked: 'not taken yet', right: 'right as it is', taken: 'taken', 'not-taken': 'not to be taken' } as const;

function clockWords({ body, offsetMs, errorMs, shownAt, is }: ClockByCard): string {
  const off = Math.abs(offsetMs) <= errorMs ? 'right' : `${spanWords(offsetMs)} ${offsetMs < 0 ? 'fast' : 'slow'}`;
  return `${bodyWords(body)}: ${off}, known to ${(errorMs / 1000).toFixed(1)} s, by the clock card of ${clockOf(shownAt)}; ${IS[is]}.`;
}

const riderWords = ({ card, point, is }: RiderByCard, holder: string | null): string =>
  `card ${card}${holder === null ? '' : `, ${holder}`}: held against the bike at ${Math.round(100 * point.x)} % across, ${Math.round(100 * point.y)} % down of file ${point.file}; ${IS[is]}.`;

function decisionsOf(one: ClockByCard | RiderByCard): readonly Decision[] {
  if (one.kind === 'rider-is')
    return [
      { kind: 'rider-is', point: one.point, person: one.person },
      { kind: 'card-answered', frame: one.frameId, is: 'taken' },
    ];
  const { body, offsetMs, fromFrame, toFrame, frames } = one;
  const stretch = { ...(fromFrame && { fromFrame }), ...(toFrame && { toFrame }) };
  return [
    { kind: 'body-clock', body, ...stretch, offsetMs },
    { kind: 'card-answered', frame: frames[0]!, is: 'taken' },
  ];
}

async function printCards(
  folder: string,
  range: string,
  { pdf, gallery, stateRoot }: CardsWish,
  say: Say,
): Promise<void> {
  const [, first, last] = /^(\d{1,3})-(\d{1,3})$/.exec(range) ?? [];
  const [from, to] = [Number(first), Number(last)];
  if (!(from >= 1 && from <= to))
    throw new CliError(`Expected the first and the last card after --print, as 1-40, but got ${onOneLine(range)}.`);
  if (pdf === undefined) throw new CliError('Expected where the cards go: say --pdf and a file.');
  const whole = await openWholeDay(folder, { isForLooking: true, ...(stateRoot === undefined ? {} : { stateRoot }) });
  const { about } = whole.meeting;
  await whole.close();
  const secret = await meetingSecret(folder);
  const cards = Array.from({ length: to - from + 1 }, (_, i) => ({
    number: from + i,
    token: numberCardToken(secret, from + i),
  }));
  const sheet = { cards, ...(gallery === undefined ? {} : { galleryAddress: gallery }) };
  const paper = await cardSheetPdf(sheet, about.name, new Date());
  try {
    await mkdir(dirname(pdf), { recursive: true });
    await writeFile(pdf, paper.pdf);
  } catch (problem) {
    throw new CliError(`Expected to write ${pdf} but ${meaningOf(problem)}. Give another place.`);
  }
  say(`${pdf}: cards ${from} to ${to} on ${counted(paper.pages, 'page')} A4, to cut along the dashes.`);
}
