/**
 * The service's own folder, outside every meeting: settings with its secrets, the key to the admin side, the database. Only its user may
 * read it. Rule OR34.
 */
import { randomBytes } from 'node:crypto';
import { chmod, link, mkdir, readFile, rename, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';
import { webhookKeyOf } from '../payment/standardWebhooks.js';

const hex256 = z.string().regex(/^[0-9a-f]{64}$/, '64 hex digits');
const settingsFile = z.strictObject({
  v: z.literal(1),
  /** Signs forms and links; another one ends all links handed out. */
  secret: hex256,
  /** Put before the year in numbers of invoices. */
  series: z
    .string()
    .regex(/^[A-Za-z]{0,8}$/, 'at most eight letters')
    .default(''),
  ways: z.array(z.enum(['transfer', 'cash', 'terminal'])).default(['cash']),
  transferTo: z.array(z.string().max(200)).max(10).default([]),
  /** Encoded argon2id; null while the admin side answers this machine only. */
  adminPassword: z.string().startsWith('$argon2id$').nullable().default(null),
  provider: z
    .strictObject({
      key: z.string().regex(/^[a-z0-9-]{1,32}$/, 'small letters, digits and dashes'),
      name: z.string().min(1).max(60),
      start: z.url({ protocol: /^https$/, hostname: /^.+$/ }),
      origin: z.url({ protocol: /^https$/ }).optional(),
      bearer: z.string().min(1),
      webhookKeys: z
        .array(z.string().refine((text) => webhookKeyOf(text) !== null, 'a key as whsec_… of 24 to 64 bytes'))
        .min(1)
        .max(4),
    })
    .nullable()
    .default(null),
});
export type KeptSettings = z.infer<typeof settingsFile>;

export interface DataFolder {
  readonly folder: string;
  readonly settings: KeptSettings;
  /** Who can read it is let in on the admin side. */
  readonly adminKey: string;
  readonly database: string;
}

export class DataFolderError extends Error {
  readonly path: string;

  constructor(sentence: string, path: string, cause?: unknown) {
    super(sentence, { cause });
    this.name = 'DataFolderError';
    this.path = path;
  }
}

const SETTINGS = 'settings.json';
const ADMIN_KEY = 'admin.key';
const newSecret = (): string => randomBytes(32).toString('hex');

/** Makes what is not there yet; two starts at once end with the same secrets. */
export async function openDataFolder(folder: string): Promise<DataFolder> {
  await mkdir(folder, { recursive: true, mode: 0o700 });
  // One that was there before may be open to others, and the database in it holds names and addresses.
  await chmod(folder, 0o700).catch((cause: Error) => {
    throw new DataFolderError(
      `Expected ${folder} to belong to whoever runs the service, but it could not be closed to others: ${cause.message}. Say another with --data.`,
      folder,
      cause,
    );
  });
  const firstSettings = `${JSON.stringify({ v: 1, secret: newSecret(), ways: ['cash'] }, null, 2)}\n`;
  const settings = readSettings(join(folder, SETTINGS), await readOrMake(folder, SETTINGS, firstSettings));
  const adminKey = (await readOrMake(folder, ADMIN_KEY, `${newSecret()}\n`)).trim();
  if (!hex256.safeParse(adminKey).success) {
    const path = join(folder, ADMIN_KEY);
    throw new DataFolderError(
      `Expected 64 hex digits in ${path} but it holds something else. Remove it; the next start makes another.`,
      path,
    );
  }
  return { folder, settings, adminKey, database: join(folder, 'orders.db') };
}

/** What the parser complains of is not passed on: it quotes the file, and the file holds secrets. */
export function jsonOfSecrets(text: string, path: string, remedy: string): unknown {
  try {
    return JSON.parse(text);
  } catch (error) {
    const [, place] = /position (\d+)/.exec((error as Error).message) ?? [];
    const line = place === undefined ? '' : ` in line ${text.slice(0, Number(place)).split('\n').length}`;
    throw new DataFolderError(`Expected JSON in ${path} but got something else${line}. ${remedy}`, path);
  }
}

function readSettings(path: string, text: string): KeptSettings {
  const json = jsonOfSecrets(text, path, 'Mend it, or put the copy of it back.');
  const read = settingsFile.safeParse(json);
  if (read.success) return read.data;
  const [first] = read.error.issues;
  // Never the value itself: this file holds secrets.
  const sentence = `Expected the settings of the order service in ${path}, but at ${first?.path.join('.') || 'the top'}: ${first?.message}. Mend that line.`;
  throw new DataFolderError(sentence, path);
}

async function readOrMake(folder: string, name: string, first: string): Promise<string> {
  const path = join(folder, name);
  const read = () => readFile(path, 'utf8');
  try {
    return await read();
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'ENOENT') throw error;
  }
  const temporary = `${path}.${randomBytes(6).toString('hex')}`;
  await writeFile(temporary, first, { mode: 0o600, flush: true });
  // A link fails where the name is taken by now; a rename would overwrite the other start's secret.
  await link(temporary, path).catch((error: NodeJS.ErrnoException) => {
    if (error.code !== 'EEXIST') throw error;
  });
  await rm(temporary, { force: true });
  return read();
}

export async function keepAdminPassword({ folder, settings }: DataFolder, adminPassword: string | null): Promise<void> {
  const path = join(folder, SETTINGS);
  const temporary = `${path}.${randomBytes(6).toString('hex')}`;
  await writeFile(temporary, `${JSON.stringify({ ...settings, adminPassword }, null, 2)}\n`, {
    mode: 0o600,
    flush: true,
  });
  await rename(temporary, path);
  await chmod(path, 0o600);
}
