/** `meeting.json`: what the meeting is. Written whole or not at all; read with care, since people carry it about. */
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';
import { PROOF_EDGE_PX } from '../../core/finish/index.js';
import { KEPT_KINDS } from '../../core/handover/law/index.js';
import { MeetingError } from './meetingError.js';
import type { MeetingAbout } from './types.js';
import { writeWhole } from './writeWhole.js';

/** Version of the folder's format that this program writes. */
export const FOLDER_FORMAT = 1;

const day = z.string().regex(/^\d{4}-\d{2}-\d{2}$/, 'expected YYYY-MM-DD');
const webAddress = z.url({ protocol: /^https?$/ });
const isZone = (zone: string): boolean => {
  try {
    new Intl.DateTimeFormat('en', { timeZone: zone });
    return true;
  } catch {
    return false;
  }
};

/** Money in minor units; of which currency, the price list says. */
const commission = z.discriminatedUnion('kind', [
  z.object({
    kind: z.literal('percent'),
    basisPoints: z.number().int().min(0).max(10_000),
    of: z.enum(['gross', 'net']),
  }),
  z.object({ kind: z.literal('fixed'), amount: z.number().int().min(0) }),
]);

const organiser = z.looseObject({
  name: z.string().min(1).optional(),
  pictures: z.number().int().min(1).max(1000).optional(),
  longEdgePx: z.number().int().min(64).max(100_000).optional(),
  due: z.iso.datetime({ local: true, precision: -1, error: 'expected YYYY-MM-DDTHH:MM' }).optional(),
  dueMinutesAfterFlag: z.number().int().min(0).optional(),
  boards: z.array(z.string().min(1)).optional(),
  mayPassToSponsors: z.boolean().optional(),
  mayUseUntil: day.optional(),
  commission: commission.optional(),
});

const aboutSchema = z.looseObject({
  id: z.uuid(),
  format: z.number().int().positive(),
  name: z.string().min(1),
  firstDay: day,
  lastDay: day,
  zone: z.string().refine(isZone, 'expected an IANA zone such as Europe/Berlin'),
  circuit: z.string().optional(),
  spots: z.array(z.looseObject({ id: z.string().min(1), number: z.number().int(), name: z.string() })),
  creator: z.string().optional(),
  credit: z.string().optional(),
  copyright: z.string().optional(),
  contact: z.string().optional(),
  usageTerms: z.string().optional(),
  finalUsageTerms: z.string().optional(),
  licences: z.partialRecord(z.enum(['personal', 'press', 'sponsor']), z.string().max(2000)).optional(),
  keepDays: z.partialRecord(z.enum(KEPT_KINDS), z.number().int().min(0).max(36_500)).optional(),
  markText: z.string().min(1).optional(),
  markPicture: z
    .string()
    .regex(/^(words|[0-9a-f]{32})$/, 'expected the hash of mark.png, or words')
    .optional(),
  galleryAddress: webAddress.optional(),
  ordersAddress: webAddress.optional(),
  galleryLanguage: z.string().optional(),
  mayBeNamed: z.boolean().optional(),
  proofLongEdgePx: z.number().int().min(PROOF_EDGE_PX.least).max(PROOF_EDGE_PX.most).optional(),
  organiser: organiser.optional(),
});

const pathOf = (folder: string): string => join(folder, 'meeting.json');

/** Checks what is to be written or was read; the sentence names the member that is wrong. */
export function checkedAbout(value: unknown, path: string): MeetingAbout {
  const answer = aboutSchema.safeParse(value);
  if (answer.success) return value as MeetingAbout;
  const issue = answer.error.issues[0];
  const where = ['meeting', ...(issue?.path ?? [])].join('.');
  throw new MeetingError(`Expected a meeting in ${path} but ${where}: ${issue?.message}.`, { path });
}

export async function writeAbout(folder: string, about: MeetingAbout): Promise<void> {
  await writeWhole(pathOf(folder), `${JSON.stringify(about, null, 2)}\n`);
}

/** Says something else of the meeting; only whoever owns it may. */
export async function amendAbout(folder: string, change: Partial<MeetingAbout>): Promise<void> {
  await writeAbout(folder, checkedAbout({ ...(await readAbout(folder)), ...change }, pathOf(folder)));
}

export async function readAbout(folder: string): Promise<MeetingAbout> {
  const path = pathOf(folder);
  const text = await readFile(path, 'utf8').catch((cause: NodeJS.ErrnoException) => {
    throw new MeetingError(noMeetingSentence(folder, cause), { path, cause });
  });
  const value = parsed(text, path);
  refuseNewer(value, path);
  return checkedAbout(value, path);
}

function noMeetingSentence(folder: string, cause: NodeJS.ErrnoException): string {
  if (cause.code !== 'ENOENT') return `Expected to read meeting.json in ${folder} but ${cause.message}.`;
  return `Expected a meeting in ${folder} but there is no meeting.json. Name the folder that holds it, or make a new one with tyrewall begin.`;
}

function parsed(text: string, path: string): unknown {
  try {
    return JSON.parse(text);
  } catch (cause) {
    const sentence = `Expected JSON in ${path} but ${(cause as Error).message}. Copy meeting.json from the second disk; everything else in the folder is untouched.`;
    throw new MeetingError(sentence, { path, cause });
  }
}

function refuseNewer(value: unknown, path: string): void {
  const format = (value as { format?: unknown } | null)?.format;
  if (typeof format !== 'number' || format <= FOLDER_FORMAT) return;
  throw new MeetingError(
    `This meeting was made by a newer Tyrewall: its folder has format ${format}, this program knows up to ${FOLDER_FORMAT}. Nothing was changed; open it with the newer program.`,
    { path },
  );
}
