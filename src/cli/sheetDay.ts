/** A meeting opened to look at one day of its plan; nothing is changed. */

import { wallOfEpoch } from '../core/numeric/wallTime.js';
import type { Office } from '../core/office/index.js';
import { carriedOf, NOTHING_SAID } from '../core/office/index.js';
import type { DayTimes } from '../core/plan/sheet/types.js';
import { epochMsOf, type WallMs, wallMsOf } from '../core/units.js';
import type { DayState } from '../host/day/types.js';
import { stateRootOf } from '../host/meeting/stateFolder.js';
import type { MeetingAbout } from '../host/meeting/types.js';
import { officePathOf, openOffice } from '../host/office/officeFile.js';
import { type SheetDay, type SheetWish, sheetDayOf, sheetsOfDay } from '../host/plan/sheet/sheetOfDay.js';
import { CliError } from './cliError.js';
import { wholeNumber } from './numbers.js';
import { openWholeDay } from './openWholeDay.js';
import { dayOf, onOneLine } from './words.js';

export interface DayWish {
  /** `YYYY-MM-DD`; else today where it is a day of the meeting, else the first. */
  readonly day?: string;
  /** `HH:MM`: only what is still to come then. */
  readonly from?: string;
  /** From 1. */
  readonly photographer?: string;
  readonly vehicle?: boolean;
  /** Absent: as it was said at the desk. */
  readonly permit?: boolean;
  readonly json?: boolean;
  readonly stateRoot?: string;
  readonly now?: () => number;
}

export interface OpenedDay {
  readonly about: MeetingAbout;
  readonly state: DayState;
  readonly date: string;
  readonly known: SheetDay;
  readonly wish: SheetWish;
  readonly carriedKg: number;
  readonly madeAt: number;
}

export async function openDayOf(folder: string, wish: DayWish): Promise<OpenedDay> {
  const whole = await openWholeDay(folder, {
    isForLooking: true,
    ...(wish.stateRoot === undefined ? {} : { stateRoot: wish.stateRoot }),
  });
  try {
    const { about, stateFolder } = whole.meeting;
    const madeAt = (wish.now ?? Date.now)();
    const printedAt = wallOfEpoch(epochMsOf(madeAt), about.zone);
    const date = dateOf(wish.day, about, dayOf(printedAt));
    const office = await openOffice(officePathOf(stateRootOf(stateFolder))).read();
    const hasVehicle = wish.vehicle === true;
    const permit = wish.permit === undefined ? {} : { hasPermit: wish.permit };
    const state = await whole.day.settled();
    const known = sheetDayOf(state, { date, hasVehicle, ...permit });
    const photographer = photographerOf(wish.photographer, sheetsOfDay(known));
    const from = wish.from === undefined ? {} : { from: clockOn(known.day, wish.from, '--from') };
    const times = timesOf(office, about.id, known.day);
    return {
      about,
      state,
      date,
      known,
      wish: { date, printedAt, photographer, hasVehicle, times, isInTerminal: true, ...from },
      carriedKg: carriedOf(office.kit).kg,
      madeAt,
    };
  } finally {
    await whole.close();
  }
}

function dateOf(asked: string | undefined, { firstDay, lastDay }: MeetingAbout, today: string): string {
  const date = asked ?? (today >= firstDay && today <= lastDay ? today : firstDay);
  if (/^\d{4}-\d\d-\d\d$/.test(date) && date >= firstDay && date <= lastDay) return date;
  throw new CliError(
    `Expected a day of the meeting, ${firstDay === lastDay ? firstDay : `${firstDay} to ${lastDay}`}, after --day but got ${onOneLine(date)}. Write it as YYYY-MM-DD.`,
  );
}

function clockOn(day: WallMs, text: string, option: string): WallMs {
  const parts = /^(\d{1,2}):(\d\d)$/.exec(text.trim());
  const [hours, minutes] = [Number(parts?.[1]), Number(parts?.[2])];
  if (parts !== null && hours < 24 && minutes < 60) return wallMsOf(day + (hours * 60 + minutes) * 60_000);
  throw new CliError(`Expected a time of the day after ${option}, for instance 13:20, but got ${onOneLine(text)}.`);
}

function photographerOf(asked: string | undefined, of: number): number {
  if (asked === undefined) return 0;
  const number = wholeNumber(asked, 1, of);
  if (number !== null) return number - 1;
  throw new CliError(
    `Expected a photographer from 1 to ${of} after --photographer but got ${onOneLine(asked)}. How many share the day is said with the wishes for the plan, or shows where bodies stand at two spots at once.`,
  );
}

function timesOf(office: Office, meeting: string, day: WallMs): DayTimes {
  const { signOn, briefing } = office.meetings[meeting] ?? NOTHING_SAID;
  return {
    ...(signOn === undefined ? {} : { signOn: clockOn(day, signOn, 'sign-on') }),
    ...(briefing === undefined || briefing === 'none' ? {} : { briefing: clockOn(day, briefing, 'briefing') }),
  };
}
