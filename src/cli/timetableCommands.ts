/** `tyrewall timetable`, `entries` and `slip`: an organiser's files shown as what each line became, and taken; what went otherwise. */
import { readFile } from 'node:fs/promises';
import { basename } from 'node:path';
import { v4 as uuidv4 } from 'uuid';
import { daysBetween, readEntries, readTimetable } from '../core/plan/timetable/index.js';
import type { TimetableLine } from '../core/plan/timetable/types.js';
import type { SlipRule, Timetable } from '../core/plan/types.js';
import { inForceOf } from '../host/day/derive.js';
import { readTable, takeEntries } from '../host/plan/tables/index.js';
import { askDesk } from './askDesk.js';
import { CliError } from './cliError.js';
import { lookAt, type MeetingWish, sayDecisions, sayTo } from './sayDecisions.js';
import { counted, onOneLine } from './words.js';

export interface TimetableWish extends MeetingWish {
  readonly take?: boolean;
  readonly sliding?: boolean;
  readonly clockFixed?: boolean;
  readonly day?: string;
}

type Say = (line: string) => void;

const clockOf = (wall: number): string => new Date(wall).toISOString().slice(11, 16);
const dateOf = (wall: number): string => new Date(wall).toISOString().slice(0, 10);

const tableAt = async (file: string) => readTable(basename(file), await readFile(file));

export async function timetableCommand(
  folder: string,
  file: string,
  wish: TimetableWish,
  say: Say = console.log,
): Promise<void> {
  const { about, log } = await lookAt(folder, meetingWish(wish));
  const said = inForceOf(log)?.said;
  const days = daysBetween(about.firstDay, about.lastDay);
  const date = wish.day ?? about.firstDay;
  if (!days.includes(date))
    throw new CliError(`Expected a day of the meeting, ${days.join(', ')}, but got ${onOneLine(date)}.`);
  const { rows, sheet, otherSheets } = await tableAt(file);
  const groups = said?.groups ?? [];
  const preview = readTimetable(rows, { date, days, slipRule: ruleOf(wish, said), zone: about.zone, groups });
  if (sheet !== null) say(`The sheet ${onOneLine(sheet)} was read; ${otherSheets.map(onOneLine).join(', ')} was not.`);
  for (const line of preview.lines) say(onOneLine(lineWords(line)));
  for (const trouble of preview.troubles) say(onOneLine(trouble));
  const { timetable } = preview;
  if (timetable === null)
    throw new CliError(`Expected at least one session in ${file} but none was read. See above what each line became.`);
  const wrong = preview.lines.filter(({ kind }) => kind === 'not-understood').length;
  say(
    `${counted(timetable.slots.length, 'session')}; ${timetable.groups.map(({ name }) => onOneLine(name)).join(', ')}.`,
  );
  if (wish.take !== true) return say('Nothing is taken yet; say it again with --take.');
  if (wrong > 0)
    throw new CliError(
      `Nothing is taken: ${counted(wrong, 'line')} could not be understood. Mend them in ${file} and say it again.`,
    );
  await sayDecisions(folder, meetingWish(wish), [{ kind: 'timetable', timetable: withOthers(timetable, said) }]);
  say('Taken.');
}

const meetingWish = ({ stateRoot }: MeetingWish): MeetingWish => (stateRoot === undefined ? {} : { stateRoot });

function ruleOf({ sliding, clockFixed }: TimetableWish, said: Timetable | undefined): SlipRule {
  if (sliding === true && clockFixed === true)
    throw new CliError('Expected --sliding or --clock-fixed but got both. Say the one that the organiser keeps to.');
  return sliding === true ? 'sliding' : clockFixed === true ? 'clock-fixed' : (said?.slipRule ?? 'clock-fixed');
}

/** Days that the file does not name, and the fastest lap, stay as they were said. */
function withOthers(read: Timetable, said: Timetable | undefined): Timetable {
  if (!said) return read;
  const days = new Set(read.slots.map(({ start }) => dateOf(start)));
  const isOther = (wall: number) => !days.has(dateOf(wall));
  return {
    ...said,
    slipRule: read.slipRule,
    groups: [...read.groups, ...said.groups.filter(({ key }) => !read.groups.some((one) => one.key === key))],
    slots: [...read.slots, ...said.slots.filter(({ start }) => isOther(start))].sort((a, b) => a.start - b.start),
    pauses: [...(read.pauses ?? []), ...(said.pauses ?? []).filter(({ start }) => isOther(start))],
    curfews: [...(read.curfews ?? []), ...(said.curfews ?? []).filter(isOther)],
  };
}

function lineWords(line: TimetableLine): string {
  const at = `${String(line.at).padStart(3)}  `;
  switch (line.kind) {
    case 'session': {
      const { name, start, end, isSighting, isOpenPitLane } = line.slot;
      const what = isSighting ? ', sighting laps' : isOpenPitLane ? ', open pit lane' : '';
      const guesses = line.guesses.map((guess) => ` (guessed) ${guess}`).join('');
      return `${at}${name}, ${line.groupName}, ${dateOf(start)} ${clockOf(start)} to ${clockOf(end)}${what}${guesses}`;
    }
    case 'pause':
      return `${at}${line.pause.name}, ${clockOf(line.pause.start)} to ${clockOf(line.pause.end)}`;
    case 'curfew':
      return `${at}Nobody rides after ${clockOf(line.curfew)}`;
    case 'day':
      return `${at}The day ${line.date}`;
    case 'heading':
      return `${at}${line.group}: the group of the lines below`;
    case 'left-out':
      return `${at}“${line.text}”: left out. ${line.sentence}`;
    case 'columns':
    case 'not-understood':
      return `${at}${line.sentence}`;
  }
}

export async function entriesCommand(
  folder: string,
  file: string,
  wish: TimetableWish,
  say: Say = console.log,
): Promise<void> {
  const { about } = await lookAt(folder, meetingWish(wish));
  const { rows } = await tableAt(file);
  const { entries, left, troubles, sameRider } = readEntries(rows, { event: about.name });
  for (const sentence of [...left.map((one) => one.sentence), ...troubles, ...sameRider]) say(onOneLine(sentence));
  const booked = entries.filter(({ wants }) => wants !== undefined).length;
  if (entries.length === 0)
    throw new CliError(`Expected at least one line with a number in ${file} but none was read.`);
  say(`${counted(entries.length, 'entry', 'entries')}, ${booked} booked before the day.`);
  if (wish.take !== true) return say('Nothing is taken yet; say it again with --take.');
  const text = rows.map(({ cells }) => cells.map((cell) => cell.replace(/\s+/g, ' ')).join('\t')).join('\n');
  await sayTo(
    folder,
    meetingWish(wish),
    async ({ people }) => [await takeEntries(entries, people, uuidv4)],
    (address, gesture) => askDesk(address, '/api/entries', { gesture, text }),
  );
  say('Taken. Names and contacts lie in people/, apart from the log.');
}
