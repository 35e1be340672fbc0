/** The page before leaving home, and how to look after oneself, of one day of a meeting. */
import { type BeforePage, beforePage, carriedOf, NOTHING_SAID, type Office } from '../../core/office/index.js';
import { type CareWish, careOfDay } from '../../core/plan/care/careOfDay.js';
import type { CareOfDay } from '../../core/plan/care/types.js';
import { type PlannedCareDay, type PlannedState, plannedDay } from './plannedDay.js';

export interface MeetingPage {
  /** The day planned for; papers hold for the whole meeting. */
  readonly date: string;
  readonly page: BeforePage;
  readonly care: CareOfDay;
}

export function pageOf(state: PlannedState, office: Office, today: string, asked?: string): MeetingPage {
  const planned = plannedDay(state, asked);
  const care = careOfDay(wishOf(planned, office, state.about.id));
  const { id, firstDay, lastDay } = state.about;
  const { spots, sessions, date } = planned;
  return { date, care, page: beforePage({ office, meeting: { id, firstDay, lastDay }, today, spots, sessions, care }) };
}

function wishOf(planned: PlannedCareDay, office: Office, meeting: string): CareWish {
  const { driveHomeMinutes, temperatureC, humidityPercent, noise } = office.meetings[meeting] ?? NOTHING_SAID;
  const { kg } = carriedOf(office.kit);
  const { protector } = office.own;
  const { stays, usesServiceRoad, walkedM, lapMs, sunAltitudeDeg } = planned;
  return {
    stays,
    usesServiceRoad,
    ...(walkedM === undefined ? {} : { walkedM }),
    ...(lapMs === null || lapMs === undefined ? {} : { lapMs }),
    ...(sunAltitudeDeg === null ? {} : { sunAltitudeDeg }),
    ...(protector === undefined ? {} : { protector }),
    ...(noise === undefined ? {} : { level: noise }),
    ...(kg > 0 ? { carriedKg: kg } : {}),
    ...(driveHomeMinutes === undefined ? {} : { driveHomeMinutes }),
    ...(temperatureC === undefined || humidityPercent === undefined ? {} : { air: { temperatureC, humidityPercent } }),
  };
}
