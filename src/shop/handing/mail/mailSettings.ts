/** Where letters are given up, from `mail.json` in the service's data folder; without the file none are sent. Rule HD20. */
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';
import { DataFolderError, jsonOfSecrets } from '../../service/dataFolder.js';
import type { MailSettings } from '../types.js';

const LOOPBACK = ['localhost', '127.0.0.1', '::1'];

const mailFile = z
  .strictObject({
    v: z.literal(1),
    host: z.string().min(1).max(255),
    port: z.int().min(1).max(65_535),
    tls: z.enum(['from-start', 'starttls', 'none']),
    user: z.string().max(300).nullable().default(null),
    password: z.string().max(1000).nullable().default(null),
    from: z.strictObject({ name: z.string().max(200), address: z.email() }),
    authority: z.string().optional(),
  })
  .refine(({ tls, host }) => tls !== 'none' || LOOPBACK.includes(host), {
    path: ['tls'],
    message: '"from-start" or "starttls": without TLS only for a server on this machine',
  });

export async function readMailSettings(dataFolder: string): Promise<MailSettings | null> {
  const path = join(dataFolder, 'mail.json');
  const text = await readFile(path, 'utf8').catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return null;
    throw error;
  });
  if (text === null) return null;
  const json = jsonOfSecrets(text, path, 'Mend it.');
  const read = mailFile.safeParse(json);
  if (!read.success) {
    const [first] = read.error.issues;
    // Never the value itself: this file holds a password.
    const sentence = `Expected the settings of a mail server in ${path}, but at ${first?.path.join('.') || 'the top'}: ${first?.message}. Mend that line, or remove the file to send no letters.`;
    throw new DataFolderError(sentence, path);
  }
  const { host, port, tls, user, password, from, authority } = read.data;
  return {
    host,
    port,
    tls,
    user,
    password,
    from,
    ...(authority === undefined ? {} : { authority }),
  };
}
