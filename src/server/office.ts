/** Papers, kit and what is packed, as lines to be written down again. They lie on this machine, not in the meeting's log. */
import type { Hono } from 'hono';
import { z } from 'zod';
import {
  kitText,
  type MeetingPapers,
  meetingText,
  NOTHING_SAID,
  type Office,
  ownText,
  type Read,
  readKit,
  readMeeting,
  readOwn,
} from '../core/office/index.js';
import type { WallMs } from '../core/units.js';
import type { Day, DayState } from '../host/day/types.js';
import type { OfficeFile } from '../host/office/officeFile.js';
import { pageOf } from '../host/office/pageOf.js';
import { DeskError } from './DeskError.js';
import { firstTrouble } from './decisionSchema.js';
import type { OfficeView } from './types.js';
import { dateOf } from './views/wallTime.js';

export interface OfficeParts {
  readonly day: Day;
  readonly wallNow: () => WallMs;
  readonly office: OfficeFile;
}

const textRequest = z.strictObject({ text: z.string().max(50_000) });
const packedRequest = z.strictObject({ id: z.string().min(1).max(200), is: z.boolean() });

export function addOffice(app: Hono, { day, wallNow, office }: OfficeParts): void {
  const view = async (asked?: string): Promise<OfficeView> =>
    officeView(day.state(), await refusing(office.read()), dateOf(wallNow()), asked);
  const write = async (how: (before: Office) => Office): Promise<void> => {
    await refusing(office.change(how));
  };
  const papersOf = (before: Office): MeetingPapers => before.meetings[day.state().about.id] ?? NOTHING_SAID;
  const withPapers = (before: Office, papers: MeetingPapers): Office => ({
    ...before,
    meetings: { ...before.meetings, [day.state().about.id]: papers },
  });

  app.get('/api/office', async (context) => context.json(await view(context.req.query('date'))));
  app.post('/api/office/own', async (context) => {
    const own = linesOf(await context.req.json().catch(() => null), readOwn);
    await write((before) => ({ ...before, own }));
    return context.json({ written: true });
  });
  app.post('/api/office/kit', async (context) => {
    const kit = linesOf(await context.req.json().catch(() => null), readKit);
    await write((before) => ({ ...before, kit }));
    return context.json({ written: true });
  });
  app.post('/api/office/meeting', async (context) => {
    const said = linesOf(await context.req.json().catch(() => null), readMeeting);
    await write((before) => withPapers(before, { ...said, packed: papersOf(before).packed }));
    return context.json({ written: true });
  });
  app.post('/api/office/packed', async (context) => {
    const parsed = packedRequest.safeParse(await context.req.json().catch(() => null));
    if (!parsed.success) throw new DeskError(400, `Expected what is packed. ${firstTrouble(parsed.error)}.`);
    const { id, is } = parsed.data;
    await write((before) => {
      const papers = papersOf(before);
      const others = papers.packed.filter((one) => one !== id);
      return withPapers(before, { ...papers, packed: is ? [...others, id] : others });
    });
    return context.json({ written: true });
  });
}

/** Said by a desk that has none, since any other address answers with the page itself. */
export const refuseOffice = (app: Hono): void => {
  app.get('/api/office', () => {
    throw new DeskError(404, 'This desk was opened without papers.');
  });
};

/** A damaged or locked file is told of as it is: nothing was changed. */
const refusing = <T>(work: Promise<T>): Promise<T> =>
  work.catch((cause: unknown) => {
    throw new DeskError(409, cause instanceof Error ? cause.message : String(cause), { cause });
  });

function linesOf<T>(body: unknown, readLines: (text: string) => Read<T>): T {
  const parsed = textRequest.safeParse(body);
  if (!parsed.success) throw new DeskError(400, `Nothing was written down. ${firstTrouble(parsed.error)}.`);
  const read = readLines(parsed.data.text);
  if (read.kind === 'wrong') throw new DeskError(400, `Nothing was written down. ${read.sentences.join(' ')}`);
  return read.value;
}

function officeView(state: DayState, office: Office, today: string, asked: string | undefined): OfficeView {
  const papers = office.meetings[state.about.id] ?? NOTHING_SAID;
  return {
    asOf: state.asOf,
    ...pageOf(state, office, today, asked),
    texts: { own: ownText(office.own), meeting: meetingText(papers), kit: kitText(office.kit) },
  };
}
