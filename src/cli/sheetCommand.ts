/** `tyrewall sheet <meeting>`: the run sheet on paper and as a calendar. */
import { mkdir, readFile } from 'node:fs/promises';
import { dirname } from 'node:path';
import type { RunSheet } from '../core/plan/sheet/types.js';
import { epochMsOf } from '../core/units.js';
import { meaningOf } from '../host/bringin/index.js';
import { writeWhole } from '../host/meeting/writeWhole.js';
import { sheetPlace } from '../host/plan/calendar/keptCalendar.js';
import { runSheetCalendar } from '../host/plan/calendar/runSheetCalendar.js';
import { type RunSheetPaper, runSheetPdf } from '../host/plan/paper/runSheetPdf.js';
import { sourceOf } from '../host/plan/sheet/saidOfPlan.js';
import { sheetOf } from '../host/plan/sheet/sheetOfDay.js';
import { CliError } from './cliError.js';
import { reckonedDayOf, unseenWhyOf } from './reckonedPlan.js';
import { type DayWish, type OpenedDay, openDayOf } from './sheetDay.js';
import { bytesInWords, counted, onOneLine } from './words.js';

export interface SheetCommandWish extends DayWish {
  readonly pdf?: string;
  readonly ics?: string;
}

export async function sheetCommand(folder: string, wish: SheetCommandWish, say = console.log): Promise<void> {
  const opened = await openDayOf(folder, wish);
  const { state, day } = opened.known;
  const source = sourceOf(state.log, state.timetable, day);
  const sheet = sheetOf(opened.known, opened.wish, source, unseenWhyOf(reckonedDayOf(opened, source), source));
  const { pdf, ics } = placesOf(folder, wish, opened);
  const paper = pdf === undefined ? null : await writePaper(pdf, sheet, opened.madeAt);
  if (ics !== undefined) await writeCalendar(ics, sheet, opened);
  if (wish.json === true) {
    say(
      JSON.stringify(
        { date: opened.date, pdf: pdf ?? null, pages: paper?.pages ?? null, ics: ics ?? null, sheet },
        null,
        2,
      ),
    );
    return;
  }
  for (const warning of sheet.warnings) say(`! ${onOneLine(warning)}`);
  if (paper !== null) for (const line of paperLines(pdf!, paper)) say(line);
  if (ics !== undefined)
    say(`${ics}: the day as a calendar, in ${sheet.zone}. Read it in again after a change: what moved moves.`);
}

/** Where nothing is said: with what else was made of the meeting. */
function placesOf(folder: string, { pdf, ics, json }: SheetCommandWish, { date, wish }: OpenedDay) {
  if (pdf !== undefined || ics !== undefined || json === true) return { pdf, ics };
  const place = sheetPlace(folder, date, wish.photographer);
  return { pdf: `${place}.pdf`, ics: `${place}.ics` };
}

const paperLines = (path: string, { pdf, pages, missing }: RunSheetPaper): readonly string[] => [
  `${path}: the run sheet, ${counted(pages, 'page')} A4, ${bytesInWords(pdf.length)}.`,
  ...(missing.length === 0
    ? []
    : [`The fonts have no shape for ${missing.join(' ')}; a question mark was printed instead.`]),
];

async function writePaper(path: string, sheet: RunSheet, madeAt: number): Promise<RunSheetPaper> {
  const there = await contentOf(path);
  if (there !== null && !there.startsWith('%PDF'))
    throw new CliError(`Expected to write a PDF to ${path} but another file lies there. Give --pdf another name.`);
  const paper = await runSheetPdf(sheet, new Date(madeAt));
  await write(path, paper.pdf);
  return paper;
}

/** Over the calendar made before, so that what fell out of the plan is cancelled. */
async function writeCalendar(path: string, sheet: RunSheet, { about, wish, madeAt }: OpenedDay): Promise<void> {
  const there = await contentOf(path);
  if (there !== null && !there.startsWith('BEGIN:VCALENDAR'))
    throw new CliError(`Expected to write a calendar to ${path} but another file lies there. Give --ics another name.`);
  const calendar = runSheetCalendar(sheet, {
    meetingId: about.id,
    madeAt: epochMsOf(madeAt),
    photographer: wish.photographer,
    ...(there === null ? {} : { before: there }),
  });
  await write(path, calendar);
}

/** Null where there is no file. */
const contentOf = (path: string): Promise<string | null> =>
  readFile(path, 'utf8').catch((problem: NodeJS.ErrnoException) => {
    if (problem.code === 'ENOENT') return null;
    throw new CliError(`Expected to write ${path} but ${meaningOf(problem)}. Give another place.`);
  });

async function write(path: string, content: string | Uint8Array): Promise<void> {
  try {
    await mkdir(dirname(path), { recursive: true });
    await writeWhole(path, content);
  } catch (problem) {
    throw new CliError(`Expected to write ${path} but ${meaningOf(problem)}. Give another place.`);
  }
}
