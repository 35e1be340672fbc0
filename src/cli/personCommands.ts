/** `tyrewall export-person`, `erase`, `keep-until`, `wrong-rider`: what people may ask for, and what goes by itself. */
import { resolve } from 'node:path';
import {
  KEPT_KINDS,
  type KeptKind,
  type KeptPlan,
  refundSentence,
  retentionSentence,
  USUAL_DAYS,
} from '../core/handover/law/index.js';
import { moneyText, type OrderId } from '../core/handover/orders/index.js';
import { meetingSecret } from '../host/gallery/index.js';
import { publicIdsOf } from '../host/gallery/secret.js';
import { type Exported, erasePerson, exportPerson, keepAsSaid, lookAtKept, sayRetention } from '../host/law/index.js';
import { amendAbout, type OpenMeeting, openMeeting } from '../host/meeting/index.js';
import { stateRootOf } from '../host/meeting/stateFolder.js';
import { fetchOrders, readFetchedOrders } from '../host/orders/fetchedOrders.js';
import { wrongRiderFacts } from '../host/orders/wrongRiderAction.js';
import { knownPlaces, openPlace, placeIn, takeAway } from '../host/putUp/index.js';
import { CliError } from './cliError.js';
import { personCalled, riderCalled } from './lawCommands.js';
import { wholeNumber } from './numbers.js';
import { openWholeDay } from './openWholeDay.js';
import { type AskWish, clientOf } from './ordersCommand.js';
import type { MeetingWish } from './sayDecisions.js';
import { counted, onOneLine } from './words.js';

type Say = (line: string) => void;

export interface ExportPersonWish extends MeetingWish {
  readonly rider?: string;
  readonly person?: string;
}

export async function exportPersonCommand(
  folder: string,
  to: string,
  { rider, person, ...wish }: ExportPersonWish,
  say: Say = console.log,
): Promise<void> {
  if ((rider === undefined) === (person === undefined))
    throw new CliError('Expected --rider or --person, to say of whom. Say for instance --rider N-ka.');
  const whole = await openWholeDay(folder, { ...wish, isForLooking: true });
  try {
    const { meeting, day } = whole;
    const state = await day.settled();
    const idOf = publicIdsOf(await meetingSecret(meeting.folder));
    const of =
      person === undefined
        ? ({ kind: 'rider', rider: riderCalled(rider!, state, idOf).key } as const)
        : ({ kind: 'person', person: personCalled(person, meeting.people) } as const);
    const { facts } = await readFetchedOrders(meeting.folder);
    const made = await exportPerson({
      of,
      to: resolve(to),
      state,
      people: meeting.people,
      orders: facts,
      originalOf: (frame) => day.original(frame),
      idOf,
    });
    for (const line of exportLines(made)) say(line);
  } finally {
    await whole.close();
  }
}

export const exportLines = ({ folder, pictures, shared, missing }: Exported): readonly string[] => [
  `${counted(pictures, 'picture')} and all that is known in ${folder}; begin with index.html.`,
  ...(shared > 0 ? [`! ${shared} of them show others too. Look at them before you give the folder away.`] : []),
  ...(missing.length > 0 ? [`! ${missing.length} could not be copied: their card is not on this machine.`] : []),
];

export interface EraseWish extends MeetingWish, AskWish {
  readonly person: string;
}

export async function eraseCommand(folder: string, wish: EraseWish, say: Say = console.log): Promise<void> {
  const meeting = await openMeeting(folder, wish.stateRoot === undefined ? {} : { stateRoot: wish.stateRoot });
  try {
    const id = personCalled(wish.person, meeting.people);
    const { facts } = await readFetchedOrders(folder);
    const keepOrderDays = { ...USUAL_DAYS, ...meeting.about.keepDays }['order-contacts'];
    const { orders, keptUntil } = await erasePerson(id, meeting.people, facts, { keepOrderDays, now: Date.now() });
    say('Name, contact, number card and bookings are erased, here and in every copy of the meeting they meet.');
    await removeContacts(orders, wish, say);
    for (const { order, until } of keptUntil)
      say(`Order ${order.slice(0, 8)}…: name and address stay for the tax office until ${dayOf(until)}, then they go.`);
    say('Their pictures stay up unless you take them down: tyrewall take-down --rider …');
  } finally {
    await meeting.close();
  }
}

/** Finals go with the last link that gave them. */
async function endLinks(orders: readonly OrderId[], wish: AskWish, say: Say): Promise<void> {
  if (orders.length === 0) return;
  const client = await clientOf(wish);
  for (const order of orders) await client.takeLinkBack(order);
  const states = (await client.orders()).map(({ state }) => state);
  const given = new Set(states.flatMap(({ link, pictures }) => (link?.isRevoked === true ? [] : pictures)));
  // Also what left the order before.
  const ended = states.filter(({ id }) => orders.includes(id));
  const own = ended.flatMap(({ placed }) => placed?.lines.flatMap(({ pictures }) => pictures) ?? []);
  const removed = await client.removeFinals(own.filter((picture) => !given.has(picture)));
  say(
    `${counted(orders.length, 'link')} taken back at the order service, ${counted(removed.length, 'final')} removed.`,
  );
}

async function fetchOwn({ folder, about }: OpenMeeting, wish: AskWish): Promise<void> {
  const client = await clientOf(wish);
  const meeting = publicIdsOf(await meetingSecret(folder))('meeting', about.id);
  await fetchOrders(folder, (since) => client.factsSince(since, meeting));
}

async function leavePlace(meeting: OpenMeeting, name: string, say: Say): Promise<void> {
  const address = placeIn(await knownPlaces(stateRootOf(meeting.stateFolder)), name);
  const place = await openPlace(address);
  try {
    const mark = publicIdsOf(await meetingSecret(meeting.folder))('meeting', meeting.about.id);
    const now = () => new Date();
    const removed = await takeAway({ place, name, meetingFolder: meeting.folder, withdrawn: new Set(), mark, now });
    say(`The gallery left ${name}: ${counted(removed, 'file')}.`);
  } finally {
    await place.close();
  }
}

const dayOf = (at: number): string => new Date(at).toISOString().slice(0, 10);

async function removeContacts(orders: readonly OrderId[], wish: AskWish, say: Say): Promise<void> {
  if (orders.length === 0) return;
  const client = await clientOf(wish);
  for (const order of orders)
    await client.tell(order, { key: `contact-removed-${order.slice(0, 32)}`, fact: { kind: 'contact-removed' } });
  say(`Name and address left ${counted(orders.length, 'order')} at the order service.`);
}

export interface KeepWish extends MeetingWish, AskWish {
  readonly keep?: readonly string[];
  readonly stop?: boolean;
  readonly goOn?: boolean;
  readonly dryRun?: boolean;
}

export async function keepUntilCommand(folder: string, wish: KeepWish, say: Say = console.log): Promise<void> {
  if (wish.stop && wish.goOn) throw new CliError('Expected --stop or --go-on but got both. Say one of them.');
  const days = keepDaysOf(wish.keep ?? []);
  const meeting = await openMeeting(folder, {
    ...(wish.stateRoot === undefined ? {} : { stateRoot: wish.stateRoot }),
    ...(wish.dryRun ? { isForLooking: true } : {}),
  });
  try {
    if (!wish.dryRun && Object.keys(days).length > 0)
      await amendAbout(folder, { keepDays: { ...meeting.about.keepDays, ...days } });
    if (!wish.dryRun && (wish.stop || wish.goOn)) await sayRetention(folder, wish.stop === true);
    const about = { ...meeting.about, keepDays: { ...meeting.about.keepDays, ...days } };
    for (const line of await keptLines({ ...meeting, about }, wish)) say(line);
  } finally {
    await meeting.close();
  }
}

/** By itself, whenever the desk opens: only what is near its end is told. Trouble with it keeps nobody from the desk. */
export async function keptLinesAtOpening(meeting: OpenMeeting): Promise<readonly string[]> {
  if (meeting.isForLooking) return [];
  try {
    const { facts } = await readFetchedOrders(meeting.folder);
    const { plans, gone, orders, links, places } = await keepAsSaid({ ...meeting, orders: facts, now: Date.now });
    const near = plans.filter(({ standing }) => standing !== 'kept' && standing !== 'stopped');
    const isElsewhere = orders.length + links.length + places.length > 0;
    // Nobody waits for a line when the desk opens.
    const asked = isElsewhere
      ? ['Say tyrewall keep-until, so that the order service and the places let go of theirs.']
      : [];
    return [...goneLines(gone), ...near.map(retentionSentence), ...asked];
  } catch (problem) {
    return [`! ${onOneLine((problem as Error).message)}`];
  }
}

const goneLines = (gone: Readonly<Partial<Record<KeptKind, number>>>): readonly string[] =>
  Object.entries(gone).map(([kind, count]) => `Deleted: ${counted(count, 'thing')} of ${kind}.`);

async function keptLines(meeting: OpenMeeting, wish: KeepWish): Promise<readonly string[]> {
  const { facts } = await readFetchedOrders(meeting.folder);
  const input = { ...meeting, orders: facts, now: Date.now };
  const sentences = (plans: readonly KeptPlan[]) =>
    plans.length === 0 ? ['Nothing is kept here but what the cards brought.'] : plans.map(retentionSentence);
  if (wish.dryRun) return [...sentences(await lookAtKept(input)), 'Nothing was said or deleted.'];
  const { gone, orders, links, places } = await keepAsSaid(input);
  const lines = [...goneLines(gone)];
  const add = (line: string) => lines.push(line);
  const later = (what: string) => (problem: Error) => add(`! ${onOneLine(problem.message)} ${what} with the next run.`);
  await removeContacts(orders, wish, add).catch(later('The contacts go'));
  await endLinks(links, wish, add).catch(later('The links go'));
  for (const place of places) await leavePlace(meeting, place, add).catch(later(`The gallery leaves ${place}`));
  if (orders.length + links.length > 0) await fetchOwn(meeting, wish).catch(later('What it let go of is fetched'));
  const { facts: now } = await readFetchedOrders(meeting.folder);
  return [
    ...lines,
    ...sentences(await lookAtKept({ ...input, orders: now })),
    'What the cards brought is never deleted. The days are usual ones: check with local law.',
  ];
}

function keepDaysOf(said: readonly string[]): Partial<Record<KeptKind, number>> {
  return Object.fromEntries(
    said.map((text) => {
      const [kind, days] = text.split('=');
      const count = wholeNumber(days ?? '', 0, 36_500);
      if (count !== null && KEPT_KINDS.some((one) => one === kind)) return [kind, count];
      throw new CliError(
        `Expected a kind and its days after --keep, as proofs=365, but got ${onOneLine(text)}. Kinds are ${KEPT_KINDS.join(', ')}.`,
      );
    }),
  );
}

/** One action: the pictures leave the order, and what was paid for them goes back. */
export async function wrongRiderCommand(
  reference: string,
  pictures: readonly string[],
  wish: AskWish & { readonly dryRun?: boolean },
  say: Say = console.log,
): Promise<void> {
  const client = await clientOf(wish);
  const [order] = await client.ordersOf(reference);
  if (order === undefined)
    throw new CliError(
      `Expected the reference of an order but ${onOneLine(reference)} is none here. tyrewall orders list shows them.`,
    );
  const { state } = order;
  const bought = new Set<string>(state.placed?.lines.flatMap((line) => line.pictures));
  const other = pictures.find((picture) => !bought.has(picture));
  if (other !== undefined)
    throw new CliError(
      `Expected pictures of ${order.reference}, by the 32 letters at the end of their addresses, but ${onOneLine(other)} is none. Nothing was changed.`,
    );
  const facts = wrongRiderFacts(state, pictures);
  const currency = state.placed?.totals.currency ?? 'EUR';
  say(refundSentence(facts, (amount) => moneyText(amount, currency, 'en')));
  if (wish.dryRun || facts.length === 0) return;
  for (const told of facts) await client.tell(state.id, told);
  if (facts.some(({ fact }) => fact.kind === 'refunded'))
    say('The books have it, with a credit note. Give the money back the way it came.');
}
