/** Dates as people write them over and in timetables. Figures with strokes or dots are read day first, as in Europe. */
import { DAY_WORDS, MONTHS, plain, WEEKDAYS } from './words.js';

const DAY_MS = 86_400_000;

/** Days from the first to the last, both in, `YYYY-MM-DD`. */
export function daysBetween(first: string, last: string): readonly string[] {
  const days = Math.round((Date.parse(last) - Date.parse(first)) / DAY_MS) + 1;
  return Array.from({ length: Math.max(0, days) }, (_, day) =>
    new Date(Date.parse(first) + day * DAY_MS).toISOString().slice(0, 10),
  );
}

const ISO = /(?<!\d)(\d{4})-(\d{2})-(\d{2})(?!\d)/;
const FIGURES = /(?<![\d.:/])(\d{1,2})[./](\d{1,2})(?:[./](\d{4}|\d{2})(?![\d:])|\.(?!\d))/;
const IN_WORDS =
  /(?<!\d)(\d{1,2})(?:st|nd|rd|th|er|\.|º|°)?\s+(?:de\s+|of\s+)?(\p{L}{3,12})\.?(?:,?\s+(?:de\s+)?(\d{4}))?/iu;
const MONTH_FIRST = /(\p{L}{3,9})\.?\s+(\d{1,2})(?:st|nd|rd|th)?(?:,?\s+(\d{4}))?(?![\d:.])/iu;
const SPREADSHEET_DAY = /^(\d{5})(?:[.,]\d+)?$/;

export interface FoundDate {
  readonly date: string;
  readonly rest: string;
}

/** The date in a text and what is left without it; null where none is. `days` are those of the meeting. */
export function findDate(text: string, days: readonly string[]): FoundDate | null {
  const year = Number(days[0]?.slice(0, 4));
  const kept = SPREADSHEET_DAY.exec(text.trim());
  if (kept) return { date: dayOf(Date.UTC(1899, 11, 30) + Number(kept[1]) * DAY_MS), rest: '' };
  const iso = ISO.exec(text);
  if (iso) return found(text, iso, Number(iso[1]), Number(iso[2]), Number(iso[3]));
  const figures = FIGURES.exec(text);
  if (figures) {
    const [day, month] = [Number(figures[1]), Number(figures[2])];
    const inYear = figures[3] === undefined ? year : Number(figures[3]) + (figures[3].length === 2 ? 2000 : 0);
    return month > 12 ? found(text, figures, inYear, day, month) : found(text, figures, inYear, month, day);
  }
  const words = IN_WORDS.exec(text);
  if (words && monthOf(words[2]!) > 0)
    return found(text, words, Number(words[3] ?? year), monthOf(words[2]!), Number(words[1]));
  const monthFirst = MONTH_FIRST.exec(text);
  if (monthFirst && monthOf(monthFirst[1]!) > 0)
    return found(text, monthFirst, Number(monthFirst[3] ?? year), monthOf(monthFirst[1]!), Number(monthFirst[2]));
  return dayInWords(text, days);
}

const monthOf = (word: string): number => MONTHS.findIndex((names) => names.has(plain(word))) + 1;
const dayOf = (ms: number): string => new Date(ms).toISOString().slice(0, 10);

function found(text: string, match: RegExpExecArray, year: number, month: number, day: number): FoundDate | null {
  const at = Date.UTC(year, month - 1, day);
  const isReal = new Date(at).getUTCDate() === day && new Date(at).getUTCMonth() === month - 1;
  if (!isReal) return null;
  const rest = text.replace(match[0], ' ').split(/\s+/);
  return {
    date: dayOf(at),
    rest: rest
      .filter((word) => weekdayOf(word) < 0)
      .join(' ')
      .trim(),
  };
}

const weekdayOf = (word: string): number => WEEKDAYS.findIndex((names) => names.has(plain(word)));

/** `Saturday` or `Day 2` and nothing beside: of a meeting of several days. */
function dayInWords(text: string, days: readonly string[]): FoundDate | null {
  const words = plain(text);
  const nth = DAY_WORDS.exec(words);
  if (nth) {
    const date = days[Number(nth[1]) - 1];
    return date === undefined ? null : { date, rest: '' };
  }
  // Two letters may be anything; a whole word or three letters are a day.
  const weekday = words.length > 2 ? weekdayOf(words) : -1;
  if (weekday < 0) return null;
  const date = days.find((day) => (new Date(Date.parse(day)).getUTCDay() + 6) % 7 === weekday);
  return date === undefined ? null : { date, rest: '' };
}
