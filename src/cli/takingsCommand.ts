/** `tyrewall takings <meeting>`: what came in, from the orders that were fetched; with --csv for the accountant. */
import { moneyText } from '../core/handover/orders/index.js';
import type { Minor } from '../core/handover/orders/types.js';
import {
  accountantTable,
  percentText,
  type SpotTakings,
  type Takings,
  type TakingsRow,
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

export async function takingsCommand(
  folder: string,
  { csv, json = false, ...wish }: TakingsWish,
  say: (line: string) => void = console.log,
): Promise<void> {
  const whole = await openWholeDay(folder, { ...wish, isForLooking: true });
  const state = await whole.day.settled().finally(() => whole.close());
  const found = await takingsOfMeeting(state, whole.meeting.folder, await secretSoFar(whole.meeting.folder));
  if (csv !== undefined) {
    const { header, rows } = accountantTable(found.takings, state.about.name);
    await writeWhole(csv, csvText(header, rows), 0o600);
    say(`${counted(rows.length, 'fact')} for the accountant in ${csv}.`);
  }
  if (json) return say(JSON.stringify(found, null, 2));
  const spots = new Map(spotsOf(state.log, state.about.spots).map(({ id, name }) => [id as string, name]));
  if (found.takings.length === 0)
    say('No money came in yet, as far as orders were fetched: tyrewall orders fetch brings them.');
  for (const line of found.takings.flatMap((one) => takingsLines(one, (spot) => spots.get(spot) ?? spot)))
    say(onOneLine(line));
  for (const sentence of found.left) say(`! ${onOneLine(sentence)}`);
}

function takingsLines(takings: Takings, spotName: (spot: string) => string): readonly string[] {
  const money = (amount: number): string => moneyText(amount as Minor, takings.currency, 'en');
  const { commission } = takings;
  return [
    `${money(takings.gross)} of ${counted(takings.orders, 'order')}: ${money(takings.paid)} came, ${money(takings.refunded)} went back`,
    ...takings.taxes.map(({ rate, tax, gross }) => `  tax at ${percentText(rate)}  ${money(tax)} in ${money(gross)}`),
    ...(commission === null ? [] : [`  the organiser's part  ${money(commission.amount)}`]),
    `  left  ${money(takings.left)}`,
    ...rows('By product', takings.byProduct, money),
    ...rows('By spot', takings.bySpot, money, spotName),
    ...rows('By session', takings.bySession, money),
    ...rows('By rider', takings.byRider, money),
    ...rows('How it came', takings.byWay, money),
  ];
}

function rows(
  title: string,
  of: readonly (TakingsRow | SpotTakings)[],
  money: (amount: number) => string,
  nameOf = (name: string) => name,
): readonly string[] {
  return [
    title,
    ...of.map((row) => {
      const perMinute =
        'aMinute' in row && row.aMinute !== null ? `, ${money(Math.round(row.aMinute))} a minute stood` : '';
      const back = row.refunded === 0 ? '' : `, ${money(row.refunded)} went back`;
      return `  ${(row.of === null ? 'not known' : nameOf(row.of)).padEnd(18)} ${money(row.gross)} of ${counted(row.orders, 'order')}${back}${perMinute}`;
    }),
  ];
}
