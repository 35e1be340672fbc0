/**
 * Times of a day and lengths as people write them: 9:00, 09.00, 9h00, 9 h, 9 am, 9 Uhr, 0900-0920, and as spreadsheets keep
 * them: a fraction of a day, or days since 30 December 1899 (ECMA-376 part 1, 18.17.4.1, 1900 date system).
 */

/** Minutes since midnight, to 24:00. */
export type MinuteOfDay = number;

const DAY_MINUTES = 1440;
const CLOCK =
  /(?<![\d.:,])(?:(\d{1,2})(?:[:.]|\s?[hH]\s?)(\d{2})(?::\d{2}(?:\.\d+)?)?|(\d{1,2})(?=\s*(?:[hH](?![\p{L}])|[aApP]\.?[mM]\b|[uU]hr\b)))(?!\d)\s*([aApP]\.?[mM]\b\.?|[uU]hr\b|[hH](?![\p{L}\d]))?/gu;
/** Stands for a time while the words that belong to times are taken away; no text holds it. */
const MARK = '\u0000';
const BETWEEN = new RegExp(`${MARK}\\s*(?:[-–—>→]+|to|bis|until|till|à|au|a|alle|hasta)\\s*(?=${MARK})`, 'giu');
const BEFORE = new RegExp(
  `(?:(?<=^|\\s|${MARK})(?:from|at|starts?(?: at)?|starting(?: at)?|begins?(?: at)?|von|ab|um|de|dès|da|dalle|ore|desde)|[-–—@])\\s*(?=${MARK})|(?<=${MARK})\\s*[-–—]`,
  'giu',
);
/** Stands before an end, wherever in the line that is said: `9:00 Novice until 9:20`. */
const UNTIL = new RegExp(
  `(?<=^|\\s|${MARK})(?:until|till|til|to|ends(?: at)?|endet(?: um)?|bis|jusqu['’]à|hasta|fino alle|fino a)\\s*(?=${MARK})`,
  'iu',
);
const FOUR_FIGURES = /(?<![\d.:])(\d{2})(\d{2})\s*[-–—]\s*(\d{2})(\d{2})(?![\d.:])/;
const LENGTH = /(?<![\d.:,])(\d{1,3})\s*(?:['’′]|min(?:\.|s|utes?|uten|uti|utos)?(?!\p{L}))/iu;

const LETTER = String.raw`[\p{L}\p{N}]`;
const NOON = new RegExp(`(?<!${LETTER})(?:12\\s+)?(?:noon|midday|mezzogiorno|mediod[ií]a)(?!${LETTER})`, 'giu');
const MIDNIGHT = new RegExp(
  `(?<!${LETTER})(?:12\\s+)?(?:midnight|mitternacht|minuit|mezzanotte|medianoche)(?!${LETTER})`,
  'giu',
);

/** `noon` is 12:00. What other languages call lunch as well (`Mittag`, `midi`) is left as it is. */
export const inFigures = (text: string): string => text.replace(NOON, '12:00').replace(MIDNIGHT, '00:00');

const BARE_HOURS =
  /(?<![\d.:])(\d{1,2})(?:[:.h](\d{2}))?(\s*(?:[-–—]|to|till|until|bis|à|a|alle)\s*)(\d{1,2})(?:[:.h](\d{2}))?(?![\d.:]|\s*(?:['’′]|min))/iu;

/** `12-1`: only of lunch and pauses, for elsewhere two figures may be groups or rounds. */
export const withBareHours = (text: string): string =>
  text.replace(
    BARE_HOURS,
    (_, from: string, fromMinute: string | undefined, between: string, to: string, toMinute: string | undefined) =>
      `${from}:${fromMinute ?? '00'}${between}${to}:${toMinute ?? '00'}`,
  );

export interface FoundTimes {
  readonly minutes: readonly MinuteOfDay[];
  /** Whether any says am or pm: then none is guessed. */
  readonly saysHalf: boolean;
  readonly lengthMinutes: number | null;
  /** Only until when, and not from when. */
  readonly isEndAlone: boolean;
  /** What is left when times, length and the signs between them are taken away. */
  readonly rest: string;
}

/** All times in a text, in their order; null where one is no time of a day. */
export function findTimes(written: string): FoundTimes | null {
  const text = inFigures(written);
  const length = LENGTH.exec(text);
  let rest = length ? text.replace(length[0], ' ') : text;
  const minutes: MinuteOfDay[] = [];
  const halves: (string | undefined)[] = [];
  const found = [...rest.matchAll(CLOCK)];
  if (found.length === 0) {
    const four = FOUR_FIGURES.exec(rest);
    if (four) return { ...fourFigures(rest, four), lengthMinutes: lengthOf(length) };
  }
  for (const match of found) {
    const minute = minuteOf(Number(match[1] ?? match[3]), Number(match[2] ?? 0), halfOf(match[4]));
    if (minute === null) return null;
    minutes.push(minute);
    halves.push(halfOf(match[4]));
  }
  rest = rest.replace(CLOCK, MARK).replace(BETWEEN, MARK);
  const isEndAlone = minutes.length === 1 && UNTIL.test(rest);
  rest = rest.replace(UNTIL, ' ').replace(BEFORE, ' ').replaceAll(MARK, ' ');
  return {
    minutes: withOneHalf(minutes, halves),
    saysHalf: halves.some((half) => half !== undefined),
    lengthMinutes: lengthOf(length),
    isEndAlone,
    rest: rest.replace(/\s+/g, ' ').trim(),
  };
}

const lengthOf = (match: RegExpExecArray | null): number | null => (match ? Number(match[1]) : null);

const halfOf = (word: string | undefined): 'am' | 'pm' | undefined =>
  /^a/i.test(word ?? '') ? 'am' : /^p/i.test(word ?? '') ? 'pm' : undefined;

function fourFigures(text: string, four: RegExpExecArray): Omit<FoundTimes, 'lengthMinutes'> {
  const [hour, minute, endHour, endMinute] = four.slice(1).map(Number) as [number, number, number, number];
  const both = [minuteOf(hour, minute), minuteOf(endHour, endMinute)];
  if (both.includes(null)) return { minutes: [], saysHalf: false, isEndAlone: false, rest: text };
  return {
    minutes: both as MinuteOfDay[],
    saysHalf: false,
    isEndAlone: false,
    rest: text.replace(four[0], ' ').replace(/\s+/g, ' ').trim(),
  };
}

function minuteOf(hour: number, minute: number, half?: 'am' | 'pm'): MinuteOfDay | null {
  if (half !== undefined && (hour < 1 || hour > 12)) return null;
  const inDay = half === undefined ? hour : (hour % 12) + (half === 'pm' ? 12 : 0);
  const all = inDay * 60 + minute;
  return minute > 59 || all > DAY_MINUTES ? null : all;
}

/** `9:00-9:20 am` says it of both, where both then stand in order. */
function withOneHalf(minutes: readonly MinuteOfDay[], halves: readonly (string | undefined)[]): readonly MinuteOfDay[] {
  const [start, end] = minutes;
  if (minutes.length !== 2 || halves[0] !== undefined || halves[1] !== 'pm') return minutes;
  return start! + 720 < end! && start! < 720 ? [start! + 720, end!] : minutes;
}

/** A whole cell that holds one time; also bare hours, four figures, and what spreadsheets keep. Null: none. */
export function timeOfCell(cell: string): MinuteOfDay | null {
  const text = cell.trim();
  const kept = /^(\d{0,5})[.,](\d+)$/.exec(text);
  // 9.30 is half past nine; 0.375 and 46284.375 are what a spreadsheet keeps; 0.25 too, for nobody rides at 00:25.
  if (kept && (kept[1] === '0' || kept[1] === '' || kept[1]!.length === 5))
    return Math.round(Number(`0.${kept[2]}`) * DAY_MINUTES);
  if (/^\d{1,2}$/.test(text)) return minuteOf(Number(text), 0);
  if (/^\d{3,4}$/.test(text)) return minuteOf(Number(text.slice(0, -2)), Number(text.slice(-2)));
  const found = findTimes(text.replace(/^\d{4}-\d{2}-\d{2}[T ]/, ''));
  return found?.minutes.length === 1 ? found.minutes[0]! : null;
}

/** A whole cell that holds a length: 20, 20 min, 0:20, 00:20:00, a fraction of a day. In minutes. */
export function lengthOfCell(cell: string): number | null {
  const text = cell.trim();
  if (/^\d{1,3}$/.test(text)) return Number(text);
  const inWords = LENGTH.exec(text);
  if (inWords) return Number(inWords[1]);
  const asClock = /^(\d{1,2}):(\d{2})(?::\d{2})?$/.exec(text);
  if (asClock) return Number(asClock[1]) * 60 + Number(asClock[2]);
  const kept = /^0?[.,](\d+)$/.exec(text);
  return kept ? Math.round(Number(`0.${kept[1]}`) * DAY_MINUTES) : null;
}

/** A cell that is a spreadsheet's time and nothing else, where no column says so. */
export const isKeptTime = (cell: string): boolean => /^(?:0?|\d{5})[.,]\d{3,}$/.test(cell.trim());

/** `09:20`. */
export const clockOfMinute = (minute: MinuteOfDay): string =>
  `${String(Math.floor(minute / 60)).padStart(2, '0')}:${String(minute % 60).padStart(2, '0')}`;
