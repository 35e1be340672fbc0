/** The phone's day going out by code or file, and what was tapped on it coming back. */
import { join } from 'node:path';
import type { Hono } from 'hono';
import { z } from 'zod';
import type { GestureId } from '../core/ids.js';
import { qrPath } from '../core/measure/cards/index.js';
import { codeOfDay } from '../core/plan/pocket/index.js';
import type { WallMs } from '../core/units.js';
import { cardsOfMeeting, clocksByCards, ridersByCards } from '../host/cards/index.js';
import type { Day } from '../host/day/types.js';
import { newGestureId } from '../host/logbook/index.js';
import type { People } from '../host/meeting/people.js';
import type { OfficeFile } from '../host/office/officeFile.js';
import { type SheetDay, type SheetWish, sheetDayOf, sheetsOfDay } from '../host/plan/sheet/sheetOfDay.js';
import {
  carryDay,
  daysGiven,
  dayToCarry,
  hearTaps,
  hostedAddress,
  mintWatched,
  noteGiven,
  pocketFile,
  ridersToMint,
  withCrops,
  withMinted,
  writePocketFolder,
  zlibSqueezer,
} from '../host/pocket/index.js';
import { DeskError } from './DeskError.js';
import { firstTrouble } from './decisionSchema.js';
import type { CarriedView, PocketView } from './pocketTypes.js';
import { shownDate } from './views/dayLine.js';
import { knownOf } from './views/known.js';
import { tapsView } from './views/taps.js';

export interface PocketParts {
  readonly day: Day;
  readonly wallNow: () => WallMs;
  readonly now: () => number;
  readonly said: (gesture: GestureId) => void;
  readonly office: OfficeFile | undefined;
  readonly people: Pick<People, 'all' | 'write'> | undefined;
  /** Of the meeting; undefined: this desk writes nothing there. */
  readonly folder: string | undefined;
}

const dayRequest = z.strictObject({
  date: z.string().regex(/^\d{4}-\d{2}-\d{2}$/, 'expected a day as YYYY-MM-DD'),
  photographer: z.number().int().min(1).max(9).optional(),
});
const addressRequest = z.strictObject({ address: z.string().max(1000) });
/** A code is 1,003 letters at most; a file of a long day some thousands. */
const tapsRequest = z.strictObject({ text: z.string().min(1).max(200_000) });

type DayRequest = z.infer<typeof dayRequest>;

export function addPocket(app: Hono, parts: PocketParts): void {
  const { day } = parts;
  app.get('/api/pocket', async (context) => context.json(await pocketView(parts, context.req.query('date'))));
  app.post('/api/pocket/address', async (context) => {
    const { address } = parse(addressRequest, await context.req.json().catch(() => null), 'the pocket page’s address');
    const hosted = hostedAddress(address);
    if (hosted.kind === 'wrong') throw new DeskError(400, hosted.sentence);
    if (parts.office === undefined)
      throw new DeskError(404, 'This desk was opened without papers, so it keeps no address.');
    await parts.office.change((before) => ({ ...before, own: { ...before.own, pocketPage: hosted.address } }));
    return context.json({ address: hosted.address });
  });
  app.post('/api/pocket/carry', async (context) => {
    const asked = parse(dayRequest, await context.req.json().catch(() => null), 'the day to carry');
    const address = await addressOf(parts);
    if (address === null) throw new DeskError(409, NO_ADDRESS);
    return context.json(await carriedView(parts, asked, address));
  });
  // Asked for by links of the screen, after the day was carried: then every rider on the watch has a name.
  app.get('/api/pocket/page', async (context) => {
    const asked = askedOf(context.req.query());
    const carried = await withCrops(dayToCarry(...dayOf(parts, asked)).day, day);
    const page = await pocketFile(carried);
    await given(parts, (await codeOfDay(carried, zlibSqueezer)).check);
    return context.body(page, 200, download(`trackside-${asked.date}.html`, 'text/html; charset=utf-8'));
  });
  app.get('/api/pocket/code', async (context) => {
    const asked = askedOf(context.req.query());
    const carried = dayToCarry(...dayOf(parts, asked)).day;
    const { code, check } = await codeOfDay(await withCrops(carried, day), zlibSqueezer);
    await given(parts, check);
    return context.body(`tyrewall#${code}\n`, 200, download(`day-${asked.date}.txt`, 'text/plain; charset=utf-8'));
  });
  app.post('/api/pocket/folder', async (context) => context.json({ sentence: await writeFolder(parts.folder) }));
  app.post('/api/taps', async (context) =>
    context.json(tapsView(day.state(), await heard(parts, await context.req.json().catch(() => null)))),
  );
  app.post('/api/taps/say', async (context) => {
    const body: unknown = await context.req.json().catch(() => null);
    const { taps } = await heard(parts, body);
    for (const { gesture, decision } of taps.filter(({ is }) => is === 'new')) {
      await day.decide(gesture, [decision]);
      // What takes back has its own way back: the phone.
      if (decision.kind !== 'withdraw') parts.said(gesture);
    }
    return context.json(tapsView(day.state(), await heard(parts, body)));
  });
}

const NO_ADDRESS =
  'Expected where the pocket page is hosted before its day can go into a code, but nobody said. Write its address here, or give the phone the file.';

const download = (name: string, type: string) => ({
  'Content-Type': type,
  'Content-Disposition': `attachment; filename="${name}"`,
});

function parse<Schema extends z.ZodType>(schema: Schema, body: unknown, what: string): z.infer<Schema> {
  const parsed = schema.safeParse(body);
  if (!parsed.success) throw new DeskError(400, `Expected ${what}. ${firstTrouble(parsed.error)}.`);
  return parsed.data;
}

const askedOf = ({ date, photographer }: Record<string, string | undefined>): DayRequest =>
  parse(
    dayRequest,
    { date, ...(photographer === undefined ? {} : { photographer: Number(photographer) }) },
    'the day to carry',
  );

function dayOf({ day, wallNow }: PocketParts, { date, photographer = 1 }: DayRequest): [SheetDay, SheetWish] {
  const state = day.state();
  const { firstDay, lastDay } = state.about;
  if (date < firstDay || date > lastDay)
    throw new DeskError(400, `Expected a day of the meeting, ${firstDay} to ${lastDay}, but was asked for ${date}.`);
  const known = sheetDayOf(state, { date, hasVehicle: false });
  const sheets = sheetsOfDay(known);
  if (photographer > sheets)
    throw new DeskError(400, `Expected a photographer from 1 to ${sheets} but was asked for ${photographer}.`);
  return [known, { date, printedAt: wallNow(), photographer: photographer - 1, hasVehicle: false, times: {} }];
}

const addressOf = async ({ office }: PocketParts): Promise<string | null> =>
  (await office?.read())?.own.pocketPage ?? null;

/** Riders on the watch are named first: only then can a tap at the side of the track name them. */
async function carriedView(parts: PocketParts, asked: DayRequest, address: string): Promise<CarriedView> {
  const [known, wish] = dayOf(parts, asked);
  const minted = mintWatched(parts.day.state(), ridersToMint(known, wish));
  if (minted.length > 0) await parts.day.decide(newGestureId(), minted);
  const { day, warnings } = dayToCarry(withMinted(known, minted), wish);
  const carried = await carryDay(day, address);
  const about = { date: asked.date, stays: day.stays.length, warnings };
  if (carried.kind === 'file-only') return { ...about, code: carried };
  const { check, ...code } = carried;
  await given(parts, check);
  return { ...about, code: { ...code, qr: qrPath(code.text, 'L')! } };
}

const given = async ({ folder, now }: PocketParts, check: string): Promise<void> => {
  if (folder !== undefined) await noteGiven(folder, check, new Date(now()));
};

async function pocketView(parts: PocketParts, date: string | undefined): Promise<PocketView> {
  const state = parts.day.state();
  const asked = { date: shownDate(knownOf(state), parts.wallNow(), date) };
  const [known, wish] = dayOf(parts, asked);
  const holders = (parts.people?.all() ?? []).flatMap(({ card, name, contact }) =>
    card === undefined ? [] : [{ number: card, name: name ?? null, contact: contact ?? null }],
  );
  return {
    asOf: state.asOf,
    date: asked.date,
    address: await addressOf(parts),
    photographers: sheetsOfDay(known),
    stays: dayToCarry(known, wish).day.stays.length,
    cards: holders.sort((a, b) => a.number - b.number),
    cardNotes: await cardNotesOf(parts),
    canWrite: parts.folder !== undefined,
  };
}

async function cardNotesOf({ day, folder, people }: PocketParts): Promise<readonly string[]> {
  const state = day.state();
  const cards = folder === undefined || people === undefined ? null : await cardsOfMeeting(folder, people);
  return [...clocksByCards(state).notes, ...(cards === null ? [] : ridersByCards(state, cards).notes)];
}

async function heard({ day, folder }: PocketParts, body: unknown) {
  const { text } = parse(tapsRequest, body, 'what was tapped on a phone');
  const answer = await hearTaps(text, day.state(), folder === undefined ? null : await daysGiven(folder));
  if (answer.kind === 'refused') throw new DeskError(400, answer.sentence);
  return answer;
}

/** The page's static files, for whatever web server has the gallery. */
async function writeFolder(folder: string | undefined): Promise<string> {
  if (folder === undefined) throw new DeskError(404, 'This desk was opened without a folder to write to.');
  return writePocketFolder(join(folder, 'made', 'pocket'));
}
