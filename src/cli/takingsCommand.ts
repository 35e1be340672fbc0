/** `tyrewall takings <meeting>`: what came in, from the orders that were fetched; with --csv for the accountant. */
import { moneyText } from '../core/handover/orders/index.js';
import type { Minor } from '../core/handover/orders/types.js';
import {
  accountantTable,
  percentText,
  type SpotTakings,
  type Takings,
  type TakingsFound,
  type TakingsRow,
  takingsBars,
} from '../core/review/takings/index.js';
import { spotsOf } from '../host/day/derive.js';
import { secretSoFar } from '../host/gallery/index.js';
import { writeWhole } from '../host/meeting/writeWhole.js';
import { csvText } from '../host/organiser/index.js';
import { takingsOfMeeting } from '../host/review/index.js';
import { openWholeDay } from './openWholeDay.js';
import type { MeetingWish } from './sayDecisions.js';
import { counted, onOneLine } from './words.js';

export interface TakingsWish extends MeetingWish {
  readonly csv?: string;
  readonly json?: boolean;
}

interface Found extends TakingsFound {
  readonly meeting: string;
  readonly spotName: (spot: string) => string;
}

/** One meeting after another, then how they stand beside each other. */
export async function takingsCommand(
  folders: readonly string[],
  { csv, json = false, ...wish }: TakingsWish,
  say: (line: string) => void = console.log,
): Promise<void> {
  const all: Found[] = [];
  for (const folder of folders) all.push(await takingsIn(folder, wish));
  if (csv !== undefined) {
    const { header, rows } = accountantTable(all);
    await writeWhole(csv, csvText(header, rows), 0o600);
    say(`${counted(rows.length, 'fact')} for the accountant in ${csv}.`);
  }
  if (json) return say(JSON.stringify(all, null, 2));
  for (const found of all) {
    if (all.length > 1) say(onOneLine(found.meeting));
    if (found.takings.length === 0)
      say('No money came in yet, as far as orders were fetched: tyrewall orders fetch brings them.');
    for (const line of found.takings.flatMap((one) => takingsLines(one, found.spotName))) say(onOneLine(line));
    for (const sentence of found.left) say(`! ${onOneLine(sentence)}`);
  }
  if (all.length > 1) for (const line of meetingLines(all)) say(onOneLine(line));
}

async function takingsIn(folder: string, wish: MeetingWish): Promise<Found> {
  const whole = await openWholeDay(folder, { ...wish, isForLooking: true });
  const state = await whole.day.settled().finally(() => whole.close());
  const found = await takingsOfMeeting(state, whole.meeting.folder, await secretSoFar(whole.meeting.folder));
  const spots = new Map(spotsOf(state.log, state.about.spots).map(({ id, name }) => [id as string, name]));
  return { ...found, meeting: state.about.name, spotName: (spot) => spots.get(spot) ?? spot };
}

const meetingLines = (all: readonly Found[]): readonly string[] => [
  'By meeting',
  ...all.flatMap(({ meeting, takings }) =>
    takings.map(({ gross, left, currency }) => {
      const money = (amount: Minor): string => moneyText(amount, currency, 'en');
      return `  ${meeting.padEnd(18)} ${money(gross)}, left ${money(left)}`;
    }),
  ),
];

function takingsLines(takings: Takings, spotName: (spot: string) => string): readonly string[] {
  const money = (amount: number): string => moneyText(amount as Minor, takings.currency, 'en');
  const { commission } = takings;
  return [
    `${money(takings.gross)} of ${counted(takings.orders, 'order')}: ${money(takings.paid)} came, ${money(takings.refunded)} went back`,
    ...takings.taxes.map(({ rate, tax, gross }) => `  tax at ${percentText(rate)}  ${money(tax)} in ${money(gross)}`),
    ...(commission === null ? [] : [`  the organiser's part  ${money(commission.amount)}`]),
    `  left  ${money(takings.left)}`,
    ...rows('By product', takings.byProduct, takings.currency),
    ...rows('By spot', takings.bySpot, takings.currency, spotName),
    ...rows('By session', takings.bySession, takings.currency),
    ...rows('By rider', takings.byRider, takings.currency),
    ...rows('How it came', takings.byWay, takings.currency),
  ];
}

const BAR_LETTERS = 20;

/** A chart as terminals draw it. */
function rows(
  title: string,
  of: readonly (TakingsRow | SpotTakings)[],
  currency: string,
  nameOf: (name: string) => string = (name) => name,
): readonly string[] {
  const money = (amount: number): string => moneyText(amount as Minor, currency, 'en');
  const bars = takingsBars(of, currency, { nameOf });
  const most = Math.max(...bars.map(({ amount }) => amount));
  return [
    title,
    ...bars.map(({ label, text, amount, row }) => {
      const length = most <= 0 ? 0 : Math.max(0, Math.round((BAR_LETTERS * amount) / most));
      const perMinute =
        'aMinute' in row && row.aMinute !== null ? `, ${money(Math.round(row.aMinute))} a minute stood` : '';
      const back = row.refunded === 0 ? '' : `, ${money(row.refunded)} went back`;
      return `  ${label.padEnd(18)} ${'▇'.repeat(length).padEnd(BAR_LETTERS)} ${text} of ${counted(row.orders, 'order')}${back}${perMinute}`;
    }),
  ];
}
