/** Number cards to print and who was handed which; the roll of bikes that stand in a row. Contacts stay in `people/`. */
import type { Hono } from 'hono';
import { v4 as uuidv4 } from 'uuid';
import { z } from 'zod';
import type { PersonId } from '../core/ids.js';
import { wallMsOf } from '../core/units.js';
import { numberCardToken, personOfCard, rollCalled } from '../host/cards/index.js';
import type { Day, DayState } from '../host/day/types.js';
import { meetingSecret } from '../host/gallery/index.js';
import type { People } from '../host/meeting/people.js';
import { cardSheetPdf } from '../host/plan/paper/cardSheetPdf.js';
import { DeskError } from './DeskError.js';
import { firstTrouble } from './decisionSchema.js';
import { rollCallView } from './views/rollCall.js';

export interface CardParts {
  readonly day: Day;
  readonly people: Pick<People, 'all' | 'write' | 'isErased'> | undefined;
  readonly folder: string | undefined;
  readonly now: () => number;
}

/** More is a slip of the keyboard: cards have three figures. */
const MOST_CARD = 999;
const number = z.number().int().min(1).max(MOST_CARD);
const holderRequest = z
  .strictObject({ number, name: z.string().trim().max(120), contact: z.string().trim().max(200) })
  .refine(({ name, contact }) => name !== '' || contact !== '', 'expected a name or a contact');

export function addCards(app: Hono, parts: CardParts): void {
  app.get('/api/number-cards', async (context) => {
    const [from, to] = [Number(context.req.query('from')), Number(context.req.query('to'))];
    const gallery = context.req.query('gallery');
    const { pdf } = await cardsPaper(parts, from, to, gallery);
    return context.body(new Uint8Array(pdf), 200, {
      'Content-Type': 'application/pdf',
      'Content-Disposition': `attachment; filename="number-cards-${from}-${to}.pdf"`,
    });
  });
  app.post('/api/card-holders', async (context) => {
    const parsed = holderRequest.safeParse(await context.req.json().catch(() => null));
    if (!parsed.success) throw new DeskError(400, `Expected who was handed which card. ${firstTrouble(parsed.error)}.`);
    await handCard(parts, parsed.data);
    return context.json({ written: true });
  });
  app.get('/api/roll-call', (context) => {
    const { from, to, group } = context.req.query();
    return context.json(rollOf(parts.day.state(), Number(from), Number(to), group ?? ''));
  });
}

async function cardsPaper({ day, folder, now }: CardParts, from: number, to: number, gallery: string | undefined) {
  if (folder === undefined)
    throw new DeskError(404, 'This desk was opened without the meeting’s folder, and cards follow from its secret.');
  const isRange = Number.isInteger(from) && Number.isInteger(to) && from >= 1 && from <= to && to <= MOST_CARD;
  if (!isRange)
    throw new DeskError(400, `Expected the first and the last card, from 1 to ${MOST_CARD}, but got ${from} to ${to}.`);
  const secret = await meetingSecret(folder);
  const cards = Array.from({ length: to - from + 1 }, (_, i) => ({
    number: from + i,
    token: numberCardToken(secret, from + i),
  }));
  const sheet = { cards, ...(gallery === undefined || gallery === '' ? {} : { galleryAddress: gallery }) };
  return cardSheetPdf(sheet, day.state().about.name, new Date(now()));
}

/**
 * Said again it is a correction, until a bike is tied to who holds it: from then on whoever is handed the card is somebody
 * else, and never comes by the pictures of the one before.
 */
async function handCard(
  { day, people }: CardParts,
  { number: card, name, contact }: z.infer<typeof holderRequest>,
): Promise<void> {
  if (people === undefined)
    throw new DeskError(404, 'This desk was opened without people, so it writes no contact down.');
  const isTied = (id: PersonId): boolean =>
    day.state().log.inForce.some(({ decision }) => decision.kind === 'rider-is' && decision.person === id);
  const holders = people.all().filter((person) => person.card === card);
  const last = holders.toSorted((a, b) => b.changedAt - a.changedAt)[0]?.id;
  const first = personOfCard(card);
  const isNew = last === undefined && !people.isErased(first);
  await people.write({
    id: isNew ? first : last === undefined || isTied(last) ? (uuidv4() as PersonId) : last,
    card,
    ...(name === '' ? {} : { name }),
    ...(contact === '' ? {} : { contact }),
  });
}

function rollOf(state: DayState, from: number, to: number, group: string) {
  if (!Number.isSafeInteger(from) || !Number.isSafeInteger(to) || to <= from)
    throw new DeskError(
      400,
      'Expected a stretch of the day with its end after its start. Choose it on the day line again.',
    );
  return rollCallView(state, rollCalled(state, { group, from: wallMsOf(from), to: wallMsOf(to) }), wallMsOf(to));
}
