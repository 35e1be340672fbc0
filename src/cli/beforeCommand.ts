/** `tyrewall before <meeting>`: papers, packing list and how to look after oneself, on one page. Nothing is changed. */
import { type Check, MEETING_EXAMPLE, OWN_EXAMPLE } from '../core/office/index.js';
import type { CareOfDay } from '../core/plan/care/types.js';
import { timetableOf } from '../host/day/derive.js';
import { openMeeting } from '../host/meeting/index.js';
import { defaultStateRoot } from '../host/meeting/stateFolder.js';
import { officePathOf, openOffice } from '../host/office/officeFile.js';
import { type MeetingPage, pageOf } from '../host/office/pageOf.js';
import { CliError } from './cliError.js';
import { counted, onOneLine } from './words.js';

export interface BeforeWish {
  readonly json?: boolean;
  /** `YYYY-MM-DD`, of a meeting of several days. */
  readonly day?: string;
  readonly stateRoot?: string;
  readonly now?: () => number;
}

export async function beforeCommand(folder: string, wish: BeforeWish, say = console.log): Promise<void> {
  const { about, page, path } = await pageOfFolder(folder, wish);
  if (wish.json === true) say(JSON.stringify(page, null, 2));
  else for (const line of beforeLines(about.name, page, path)) say(line);
}

async function pageOfFolder(folder: string, wish: BeforeWish) {
  const { stateRoot = defaultStateRoot() } = wish;
  const meeting = await openMeeting(folder, { stateRoot, isForLooking: true });
  try {
    const { about } = meeting;
    if (wish.day !== undefined && (wish.day < about.firstDay || wish.day > about.lastDay))
      throw new CliError(
        `Expected a day of the meeting, ${about.firstDay} to ${about.lastDay}, but got ${onOneLine(wish.day)}.`,
      );
    const log = meeting.log.folded();
    const path = officePathOf(stateRoot);
    const today = todayIn(about.zone, (wish.now ?? Date.now)());
    const office = await openOffice(path).read();
    return { about, path, page: pageOf({ about, log, timetable: timetableOf(log) }, office, today, wish.day) };
  } finally {
    await meeting.close();
  }
}

/** The calendar's day at the circuit. Swedish writes dates as ISO 8601 does. */
const todayIn = (zone: string, now: number): string =>
  new Intl.DateTimeFormat('sv-SE', { timeZone: zone, dateStyle: 'short' }).format(now);

export function beforeLines(name: string, { page, care, date }: MeetingPage, path: string): readonly string[] {
  const all = [...page.papers, ...page.kit, ...page.packing];
  const settled = [...page.papers, ...page.kit].filter(({ is }) => is === 'settled');
  const { kg, unweighed } = page.carried;
  return [
    `${onOneLine(name)}. ${page.headline}`,
    ...titled('Missing', of(all, 'missing'), '✗'),
    ...titled('To mind', of([...page.papers, ...page.kit], 'mind', 'open'), '·'),
    ...titled('Settled', settled, '✓'),
    ...titled('To pack', of(page.packing, 'open', 'mind'), '☐'),
    ...titled('Packed', of(page.packing, 'settled'), '☑'),
    ...(kg > 0
      ? [`  ${kg.toFixed(1)} kg weighed${unweighed > 0 ? `, ${counted(unweighed, 'line')} of the kit not` : ''}.`]
      : []),
    ...careLines(care, date),
    '',
    `Papers and kit are kept in ${path}; write them at the desk (tyrewall open, the day line’s left end).`,
    ...(all.every(({ is }) => is !== 'settled') ? exampleLines() : []),
  ];
}

const of = (checks: readonly Check[], ...states: readonly Check['is'][]): readonly Check[] =>
  checks.filter(({ is }) => states.includes(is));

const titled = (title: string, checks: readonly Check[], mark: string): readonly string[] =>
  checks.length === 0 ? [] : ['', title, ...checks.map(({ sentence }) => `  ${mark} ${onOneLine(sentence)}`)];

/** What nobody measured is marked as a guess. */
function careLines(care: CareOfDay, date: string): readonly string[] {
  const { noise, heat, drinking, uv } = care;
  const heard =
    noise.kind === 'no-stays'
      ? [noise.sentence]
      : [...noise.sentences.map((one) => (noise.kind === 'guess' ? `${one} (guess)` : one)), ...noise.basis];
  const sentences = [
    ...heard,
    ...(heat.kind === 'not-said' ? [heat.sentence] : heat.sentences),
    ...(drinking === null ? [] : [drinking.sentence]),
    uv.sentence,
    ...care.body,
  ];
  const cautions = care.cautions.map(({ spot, sentence }) =>
    spot === null ? sentence : `${spot.number} ${spot.name}: ${sentence}`,
  );
  const under = (title: string, lines: readonly string[]) => ['', title, ...lines.map((one) => `  ${onOneLine(one)}`)];
  return [...under(`Looking after yourself, ${date}`, sentences), ...under('Cautions', cautions)];
}

const exampleLines = (): readonly string[] => [
  '',
  'For example (sums and ages are one country’s; ask your circuit for its own):',
  ...[...OWN_EXAMPLE.split('\n'), ...MEETING_EXAMPLE.split('\n')].map((line) => `  ${line}`),
];
