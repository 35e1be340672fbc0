/**
 * The photographer's papers and kit: one rewritable file of this machine, for all meetings. It holds a date of birth and serial
 * numbers, so it lies in no meeting's folder, which is copied to other disks and lent to others, and only its owner may read it.
 */
import { mkdir, readFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { z } from 'zod';
import { KIT_KINDS, type Office } from '../../core/office/types.js';
import { writeWhole } from '../meeting/writeWhole.js';
import { OfficeError } from './officeError.js';

export interface OfficeFile {
  readonly path: string;
  /** Nothing said where there is no file yet. Damaged, it is refused and left as it is. */
  read(): Promise<Office>;
  /** Reads, changes and writes in one go, one after the other. */
  change(how: (before: Office) => Office): Promise<Office>;
}

const VERSION = 1;
const OWNER_ONLY = 0o600;

export const officePathOf = (stateRoot: string): string => join(stateRoot, 'office.json');

export function openOffice(path: string): OfficeFile {
  let last: Promise<unknown> = Promise.resolve();
  const read = () => readOffice(path);
  const change = async (how: (before: Office) => Office): Promise<Office> => {
    const after = how(await read());
    await write(path, after);
    return after;
  };
  return {
    path,
    read,
    change(how) {
      const mine = last.then(() => change(how));
      last = mine.catch(() => undefined);
      return mine;
    },
  };
}

async function write(path: string, office: Office): Promise<void> {
  try {
    await mkdir(dirname(path), { recursive: true });
    await writeWhole(path, `${JSON.stringify({ v: VERSION, ...office }, null, 2)}\n`, OWNER_ONLY);
  } catch (cause) {
    throw new OfficeError(
      `Expected to write your papers to ${path} but ${(cause as Error).message}. What was there before still is. Make room, or make the folder writable, and say it again.`,
      path,
      cause,
    );
  }
}

const text = z.string().min(1);
const day = z.string().regex(/^\d{4}-\d{2}-\d{2}$/);
const clock = z.string().regex(/^\d{2}:\d{2}$/);
const count = z.number().nonnegative();
const money = z.looseObject({ amount: count, currency: text });
const grant = ['granted', 'asked', 'refused'] as const;

const own = z.looseObject({
  born: day.optional(),
  certificate: z.looseObject({ insurer: text, sum: money, coversTrackside: z.boolean(), expires: day }).optional(),
  kitInsured: money.optional(),
  protector: z
    .looseObject({
      name: text,
      rating: z.discriminatedUnion('kind', [
        z.looseObject({ kind: z.literal('snr'), snrDb: z.number() }),
        z.looseObject({ kind: z.literal('hml'), highDb: z.number(), mediumDb: z.number(), lowDb: z.number() }),
      ]),
    })
    .optional(),
  pocketPage: text.optional(),
});

const item = z.looseObject({
  kind: z.enum(KIT_KINDS),
  name: text,
  count: z.number().int().positive(),
  serial: text.optional(),
  value: money.optional(),
  isInsured: z.boolean().optional(),
  weightG: count.optional(),
  focalMm: z.tuple([count, count]).optional(),
  capacityGb: count.optional(),
  framesACharge: count.optional(),
});

const meeting = z.looseObject({
  asksLiability: money.optional(),
  asksAge: count.optional(),
  accreditation: z.looseObject({ is: z.enum(grant), by: text.optional() }).optional(),
  rightToSell: z
    .looseObject({ is: z.enum([...grant, 'not-wanted']), by: text.optional(), commissionPercent: count.optional() })
    .optional(),
  signOn: clock.optional(),
  briefing: z.union([clock, z.literal('none')]).optional(),
  deadlines: z.array(z.looseObject({ what: text, by: day, isDone: z.boolean() })),
  driveHomeMinutes: count.optional(),
  temperatureC: z.number().optional(),
  humidityPercent: z.number().optional(),
  framesExpected: count.optional(),
  noise: z.looseObject({ levelDb: z.number(), atM: z.number().positive() }).optional(),
  packed: z.array(text),
});

const officeSchema = z.looseObject({
  v: z.number(),
  own,
  kit: z.array(item),
  meetings: z.record(z.string(), meeting),
});

const NOTHING: Office = { own: {}, kit: [], meetings: {} };

async function readOffice(path: string): Promise<Office> {
  const read = await readFile(path, 'utf8').catch((cause: NodeJS.ErrnoException) => {
    if (cause.code === 'ENOENT') return null;
    throw new OfficeError(`Expected to read your papers in ${path} but ${cause.message}.`, path, cause);
  });
  if (read === null) return NOTHING;
  const { v: _, ...office } = parse(read, path);
  return office as unknown as Office;
}

function parse(read: string, path: string): z.infer<typeof officeSchema> {
  const toDo = 'It was left as it is: mend it, or move it away and write your papers anew.';
  let value: unknown;
  try {
    value = JSON.parse(read);
  } catch (cause) {
    throw new OfficeError(
      `Expected your papers in ${path} but it is not JSON (${(cause as Error).message}). ${toDo}`,
      path,
      cause,
    );
  }
  const answer = officeSchema.safeParse(value);
  if (!answer.success) {
    const [issue] = answer.error.issues;
    const where = issue?.path.join('.') ?? '';
    throw new OfficeError(
      `Expected your papers in ${path} but at ${where || 'its top'}: ${issue?.message}. ${toDo}`,
      path,
      answer.error,
    );
  }
  if (answer.data.v > VERSION)
    throw new OfficeError(
      `Your papers in ${path} were written by a newer Tyrewall (format ${answer.data.v}, this one knows ${VERSION}). Use that one; nothing was changed.`,
      path,
    );
  return answer.data;
}
