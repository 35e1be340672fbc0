/** `tyrewall clients <meeting>`: who booked, whether each is seen, and what is still owed; with --out as a page to carry. */
import type { ClientLine, ClientSession, ClientsView } from '../core/handover/organiser/index.js';
import { clockOf } from '../core/plan/sheet/words.js';
import { outOf100 } from '../core/units.js';
import { wallAt } from '../host/day/wallNow.js';
import { writeWhole } from '../host/meeting/writeWhole.js';
import { clientsOfDay, clientsPage } from '../host/organiser/index.js';
import { openWholeDay } from './openWholeDay.js';
import type { MeetingWish } from './sayDecisions.js';
import { counted, onOneLine } from './words.js';

export interface ClientsWish extends MeetingWish {
  readonly out?: string;
  readonly json?: boolean;
}

export async function clientsCommand(
  folder: string,
  { out, json = false, ...wish }: ClientsWish,
  say: (line: string) => void = console.log,
  now: () => number = Date.now,
): Promise<void> {
  const whole = await openWholeDay(folder, { ...wish, isForLooking: true });
  const state = await whole.day.settled().finally(() => whole.close());
  const view = clientsOfDay(state, whole.meeting.people, wallAt(state.about.zone, now()));
  if (out !== undefined) {
    await writeWhole(out, await clientsPage(view));
    say(`${counted(view.clients.length, 'client')} on a page that needs no signal: ${out}`);
  }
  if (json) say(JSON.stringify(view, null, 2));
  else if (out === undefined) for (const line of clientLines(view)) say(onOneLine(line));
}

/** Marked as in all lists: a guess with a question mark, a person's word with an exclamation mark. */
function clientLines({ clients, cardsUntil }: ClientsView): readonly string[] {
  if (clients.length === 0)
    return ['Nobody on the entry list has booked. Take a list with a column “booked” or “package” first.'];
  const until = cardsUntil === null ? 'no card is in yet' : `cards are in up to ${clockOf(cardsUntil)}`;
  return [`${counted(clients.length, 'client')}; ${until}`, ...clients.flatMap(linesOf)];
}

function linesOf(client: ClientLine): readonly string[] {
  const { number, class: of, name, wants, good, owed, isWanted, sessions, doubts } = client;
  const owes = [
    owed.pictures === null || owed.pictures === 0 ? '' : counted(owed.pictures, 'picture'),
    owed.spots === null || owed.spots === 0 ? '' : counted(owed.spots, 'spot'),
  ].filter(Boolean);
  const head = [number, of, name].filter(Boolean).join(', ');
  return [
    `${isWanted ? '!! ' : ''}${head}: ${wants}; ${counted(good, 'good picture')}${owes.length === 0 ? '' : `, still owed ${owes.join(' and ')}`}`,
    ...sessions.map(sessionLine),
    ...doubts.map((doubt) => `    ? ${doubt}`),
  ];
}

function sessionLine({ name, when, cards, got }: ClientSession): string {
  const seen =
    cards.kind === 'seen'
      ? `${counted(cards.good, 'good picture')} of ${cards.frames}${cards.by.kind === 'read' ? ` (guess, number read, ${outOf100(cards.by.confidence)} %)` : ''}`
      : WHY[cards.why];
  const taps = got.map(({ at }) => `got it at ${clockOf(at)} (said)`);
  return `    ${name.padEnd(8)} ${[when === 'now' ? 'now' : '', seen, ...taps].filter(Boolean).join(', ')}`;
}

const WHY = {
  'not-in-the-cards': 'not in the cards',
  'no-card-yet': 'no card of it yet',
  'to-come': 'still to come',
} as const;
