/** `tyrewall orders bring`, `waiting`, `link`, `take-link-back`, `letter`: handing over what was bought, from a terminal. */
import { setTimeout } from 'node:timers/promises';
import { ownTermsOf, usageTermsOf } from '../core/handover/law/index.js';
import type { LicenceKind } from '../core/handover/orders/index.js';
import { meetingSecret, publicIdsOf } from '../host/gallery/index.js';
import { type BroughtReport, bringFinals, finalsOfMeeting, type WaitingOrder } from '../shop/handing/index.js';
import { publishingOf } from './handOver.js';
import { refuseQuietSuccess, showing } from './handOverCommands.js';
import { openWholeDay, type WholeDay } from './openWholeDay.js';
import { type AskWish, clientOf, orderOf } from './ordersCommand.js';
import { untilInterrupted } from './untilInterrupted.js';
import { counted, onOneLine } from './words.js';

/** A buyer waits, but the laptop has other things to do. */
const PAUSE_MS = 15_000;

export async function bringCommand(folder: string, wish: AskWish & { readonly stay?: boolean }): Promise<void> {
  const { plain } = await clientOf(wish);
  const whole = await openWholeDay(folder);
  const maker = finalsOfMeeting(() => meetingOf(whole));
  const bring = async () => sayBrought(await showing('finals', (report) => bringFinals(plain, maker, report)));
  try {
    let failed = await bring();
    const ended = wish.stay === true ? untilInterrupted().then(() => true) : Promise.resolve(true);
    while (!(await Promise.race([ended, setTimeout(PAUSE_MS, false, { ref: false })]))) failed += await bring();
    refuseQuietSuccess(failed);
  } finally {
    await whole.close();
  }
}

/** As it is now: a card may have been brought in, or something taken down, since it was opened. */
async function meetingOf({ day, meeting }: WholeDay) {
  const { about, folder } = meeting;
  const publicIdOf = publicIdsOf(await meetingSecret(folder));
  const own = ownTermsOf(about);
  return {
    state: await day.settled(),
    meetingFolder: folder,
    publicIdOf,
    termsOf: (licence: LicenceKind) => usageTermsOf(licence, 'en', about, own[licence]),
    options: {
      originalOf: (frame: Parameters<typeof day.original>[0]) => day.original(frame),
      publishing: publishingOf(meeting),
    },
  };
}

function sayBrought({ brought, failed }: BroughtReport): number {
  if (brought > 0) console.log(`${counted(brought, 'final')} brought to the service.`);
  for (const line of eachOnce(failed)) console.log(line);
  return failed.length;
}

/** What is said of several pictures alike is one line, with how many. */
function eachOnce(all: readonly { readonly sentence: string }[]): readonly string[] {
  const times = new Map<string, number>();
  for (const { sentence } of all) times.set(sentence, (times.get(sentence) ?? 0) + 1);
  return [...times].map(([sentence, of]) => (of === 1 ? '' : `${of} pictures: `) + onOneLine(sentence));
}

export async function waitingCommand(wish: AskWish): Promise<void> {
  const waiting = await (await clientOf(wish)).waiting();
  for (const order of waiting) console.log(waitingLine(order));
  if (waiting.length === 0) console.log('All that is paid is handed over.');
}

function waitingLine({ reference, livery, signs, notMade, toCome, letter }: WaitingOrder): string {
  const lines = [
    ...(signs === null ? [] : [signsLine(signs)]),
    ...(toCome === 0 ? [] : [`${counted(toCome, 'final')} to come: tyrewall orders bring <meeting>`]),
    ...eachOnce(notMade),
    ...(letter === null ? [] : [`the letter: ${onOneLine(letter.said)}`]),
  ];
  return [`${reference}  ${livery.map(onOneLine).join('; ')}`, ...lines.map((line) => `  ${line}`)].join('\n');
}

/** Signing is done where the pictures are shown. */
const signsLine = ({ pictures, signedBy }: NonNullable<WaitingOrder['signs']>): string =>
  `${counted(pictures.length, 'picture')} joined by guess wait for two signs at the desk${signedBy.length === 0 ? '' : `; signed by ${signedBy.map(onOneLine).join(', ')}`}`;

export async function linkCommand(reference: string, wish: AskWish): Promise<void> {
  const client = await clientOf(wish);
  const { state } = await orderOf(client, reference);
  const { address, expiresAt } = await client.link(state.id, null);
  console.log(address);
  console.log(`Good until ${new Date(expiresAt).toISOString().slice(0, 10)}. Whoever has it can fetch the pictures.`);
}

export async function takeLinkBackCommand(reference: string, wish: AskWish): Promise<void> {
  const client = await clientOf(wish);
  const order = await orderOf(client, reference);
  await client.takeLinkBack(order.state.id);
  console.log(`The link of ${order.reference} opens nothing any more. Another is made by tyrewall orders link.`);
}

export async function letterCommand(reference: string, wish: AskWish): Promise<void> {
  const client = await clientOf(wish);
  const order = await orderOf(client, reference);
  const { isQueued } = await client.sendLetter(order.state.id);
  console.log(
    isQueued
      ? `The letter of ${order.reference} goes out.`
      : `No letter of ${order.reference}: one waits or went less than a quarter of an hour ago, or it may not be handed over yet.`,
  );
}
