/** One meeting's papers as lines (rule PL930). What is ticked as packed is not among them. */
import type { LevelRead } from '../../plan/care/types.js';
import { metresOf } from '../../units.js';
import { moneyInWords } from '../money.js';
import type { Accreditation, Deadline, MeetingPapers, RightToSell } from '../types.js';
import { type LineRead, partsOf, type Read, readClock, readDay, readLines, readMoney, readNumber } from './lines.js';

type Said = Omit<MeetingPapers, 'packed'>;
type Fact = Partial<Omit<Said, 'deadlines'>> | { readonly deadline: Deadline };

/** Shown where nothing is written yet: one large UK circuit asks for 5,000,000 GBP and 18 years. Others ask otherwise. */
export const MEETING_EXAMPLE = [
  'asks 5,000,000 GBP',
  'asks age 18',
  'accreditation granted by the circuit’s office',
  'right to sell asked of the organiser; 15 %',
  'sign-on 07:30',
  'briefing 08:20',
  'deadline 2026-06-16 application to the circuit',
  'drive home 95 min',
  'air 24 °C 55 %',
].join('\n');

const WORDS =
  /^(asks age|asks|accreditation|right to sell|sign-on|briefing|deadline|done|drive home|air|noise|frames)\s+(.*)$/i;

export function readMeeting(text: string): Read<Said> {
  const read = readLines<Fact>(text, readLine);
  if (read.kind === 'wrong') return read;
  const deadlines = read.value.flatMap((fact) => ('deadline' in fact ? [fact.deadline] : []));
  const facts = read.value.filter((fact) => !('deadline' in fact));
  return { kind: 'read', value: { ...(Object.assign({}, ...facts) as Said), deadlines } };
}

const told = <T>(value: T | null, say: (value: T) => Fact, expected: string): LineRead<Fact> =>
  value === null ? { expected } : { said: say(value) };

function readLine(line: string): LineRead<Fact> {
  const [, word = '', rest = ''] = WORDS.exec(line) ?? [];
  switch (word.toLowerCase()) {
    case 'asks':
      return told(readMoney(rest), (asksLiability) => ({ asksLiability }), 'asks and a sum like 5,000,000 GBP');
    case 'asks age':
      return told(readNumber(rest, 0, 99), (asksAge) => ({ asksAge }), 'asks age and years like 18');
    case 'accreditation':
      return told(
        readAccreditation(rest),
        (accreditation) => ({ accreditation }),
        'accreditation granted, asked or refused, and by whom',
      );
    case 'right to sell':
      return told(
        readRight(rest),
        (rightToSell) => ({ rightToSell }),
        'right to sell granted, asked, refused or not wanted, by whom, and a commission like 15 %',
      );
    case 'sign-on':
      return told(readClock(rest), (signOn) => ({ signOn }), 'sign-on and a time like 07:30');
    case 'briefing':
      return told(
        rest.toLowerCase() === 'none' ? ('none' as const) : readClock(rest),
        (briefing) => ({ briefing }),
        'briefing and a time like 08:20, or none',
      );
    case 'deadline':
    case 'done':
      return told(
        readDeadline(rest, word.toLowerCase() === 'done'),
        (deadline) => ({ deadline }),
        `${word.toLowerCase()}, a day like 2026-06-16, and what is due`,
      );
    default:
      return readPlanned(word.toLowerCase(), rest);
  }
}

function readPlanned(word: string, rest: string): LineRead<Fact> {
  switch (word) {
    case 'drive home':
      return told(
        readNumber(rest.replace(/ ?min$/, ''), 0, 1440),
        (driveHomeMinutes) => ({ driveHomeMinutes }),
        'drive home and minutes like 95 min',
      );
    case 'air':
      return told(readAir(rest), (air) => air, 'air, a temperature and a humidity like 24 °C 55 %');
    case 'noise':
      return told(readNoise(rest), (noise) => ({ noise }), 'noise of one bike going by like 91 dB at 20 m');
    case 'frames':
      return told(
        readNumber(rest.replace(/[, ]/g, ''), 1, 200_000),
        (framesExpected) => ({ framesExpected }),
        'frames and how many you expect, like 7,000',
      );
    default:
      return {
        expected:
          'a line that begins with asks, asks age, accreditation, right to sell, sign-on, briefing, deadline, done, drive home, air, noise or frames',
      };
  }
}

function readAccreditation(text: string): Accreditation | null {
  const found = /^(granted|asked|refused)(?:\s+(?:by|of)\s+(.+))?$/i.exec(text);
  if (!found) return null;
  return { is: found[1]!.toLowerCase() as Accreditation['is'], ...(found[2] === undefined ? {} : { by: found[2] }) };
}

function readRight(text: string): RightToSell | null {
  const [first = '', commission, ...more] = partsOf(text);
  const found = /^(granted|asked|refused|not wanted)(?:\s+(?:by|of)\s+(.+))?$/i.exec(first);
  const percent = commission === undefined ? undefined : readNumber(commission.replace(/ ?%$/, ''), 0, 100);
  if (!found || percent === null || more.length > 0) return null;
  return {
    is: found[1]!.toLowerCase().replace(' ', '-') as RightToSell['is'],
    ...(found[2] === undefined ? {} : { by: found[2] }),
    ...(percent === undefined ? {} : { commissionPercent: percent }),
  };
}

function readDeadline(text: string, isDone: boolean): Deadline | null {
  const [, day = '', what = ''] = /^(\S+)\s+(.+)$/.exec(text) ?? [];
  const by = readDay(day);
  return by === null ? null : { what, by, isDone };
}

function readAir(text: string): Pick<MeetingPapers, 'temperatureC' | 'humidityPercent'> | null {
  const found = /^(-?\d+(?:\.\d+)?) ?(?:°C|C)?,? (\d+(?:\.\d+)?) ?%?$/.exec(text);
  const temperatureC = readNumber(found?.[1] ?? '', -30, 55);
  const humidityPercent = readNumber(found?.[2] ?? '', 1, 100);
  return temperatureC === null || humidityPercent === null ? null : { temperatureC, humidityPercent };
}

function readNoise(text: string): LevelRead | null {
  const [, level = '', metres = ''] = /^(\d+(?:\.\d+)?) ?dB(?:\(A\))? at (\d+(?:\.\d+)?) ?m$/i.exec(text) ?? [];
  const levelDb = readNumber(level, 40, 140);
  const atM = readNumber(metres, 0.1, 1000);
  return levelDb === null || atM === null ? null : { levelDb, atM: metresOf(atM) };
}

export function meetingText(said: Said): string {
  const { accreditation, rightToSell: right } = said;
  const by = (one: { readonly is: string; readonly by?: string }): string =>
    one.by === undefined ? '' : ` ${one.is === 'asked' ? 'of' : 'by'} ${one.by}`;
  const commission = right?.commissionPercent === undefined ? '' : `; ${right.commissionPercent} %`;
  const line = (value: unknown, text: string): readonly string[] => (value === undefined ? [] : [text]);
  return [
    ...(said.asksLiability === undefined ? [] : [`asks ${moneyInWords(said.asksLiability)}`]),
    ...line(said.asksAge, `asks age ${said.asksAge}`),
    ...(accreditation === undefined ? [] : [`accreditation ${accreditation.is}${by(accreditation)}`]),
    ...(right === undefined ? [] : [`right to sell ${right.is.replace('-', ' ')}${by(right)}${commission}`]),
    ...line(said.signOn, `sign-on ${said.signOn}`),
    ...line(said.briefing, `briefing ${said.briefing}`),
    ...said.deadlines.map(({ what, by: day, isDone }) => `${isDone ? 'done' : 'deadline'} ${day} ${what}`),
    ...line(said.driveHomeMinutes, `drive home ${said.driveHomeMinutes} min`),
    ...line(said.temperatureC, `air ${said.temperatureC} °C ${said.humidityPercent} %`),
    ...line(said.noise, `noise ${said.noise?.levelDb} dB at ${said.noise?.atM} m`),
    ...line(said.framesExpected, `frames ${said.framesExpected}`),
  ].join('\n');
}
