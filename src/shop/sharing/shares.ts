/**
 * What lies in `shares/` of the service's data folder: for each share a folder, named by 128 bits nobody can guess, as `tyrewall organiser`
 * lays it. Only files its list names are ever read. Rule OG29.
 */
import { readFile, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';
import type { RemovedThing } from '../../core/handover/law/index.js';
import type { EpochMs } from '../../core/units.js';
import { clearFolder, finalName } from '../../host/law/clearFolder.js';
import { LANGUAGES } from '../pages/words/index.js';

/** One name of a file, with nothing in it that leads elsewhere. */
const fileName = z.string().regex(/^[A-Za-z0-9][A-Za-z0-9-]{0,120}\.jpg$/);
const lines = z.array(z.string());

const terms = z.object({ may: lines, mayNot: lines, duties: lines, note: z.string() });

const shareFile = z.object({
  v: z.literal(1),
  id: z.string().regex(/^[0-9a-f]{32}$/),
  title: z.string().min(1),
  passwordHash: z.string().startsWith('$argon2id$'),
  /** Null: until the folder is taken away. */
  expiresAt: z.number().nullable(),
  terms,
  /** Of the terms, which are in English; older shares have none. */
  translations: z.partialRecord(z.enum(LANGUAGES), terms).optional(),
  pictures: z.array(z.object({ number: z.number(), file: fileName, caption: z.string() })),
});

export type Share = z.infer<typeof shareFile> & { readonly folder: string };

const PAPERS = ['contact-sheet.pdf', 'captions.csv', 'terms.txt'] as const;

/** Null where there is none of that name, or its time is over. */
export async function shareIn(folder: string, id: string, now: EpochMs): Promise<Share | null> {
  if (!/^[0-9a-f]{32}$/.test(id)) return null;
  const own = join(folder, id);
  const text = await readFile(join(own, 'share.json'), 'utf8').catch(() => null);
  const share = text === null ? null : shareFile.safeParse(parsed(text));
  if (share === null) return null;
  if (!share.success || share.data.id !== id) {
    console.error(
      `Expected a share in ${own}/share.json but it holds something else. Lay it there again with tyrewall organiser.`,
    );
    return null;
  }
  const { expiresAt } = share.data;
  return expiresAt !== null && now >= expiresAt ? null : { ...share.data, folder: own };
}

/** What was taken down leaves every page, its list and its papers; by the pictures' names as finals. An address is in no answer. */
export async function removeShared(folder: string, names: ReadonlySet<string>): Promise<readonly RemovedThing[]> {
  const shows = (path: string): string | null => (names.has(finalName(path)) ? path : null);
  const removed = await clearFolder(folder, { shows });
  return removed.map((one) => ({ ...one, what: one.what.replace(/^[0-9a-f]{32}/, 'a page of the organiser') }));
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

export interface SharedFile {
  readonly path: string;
  readonly bytes: number;
  readonly type: string;
}

/** Null for whatever the list does not name. */
export async function fileOf(share: Share, kind: string, name: string): Promise<SharedFile | null> {
  const isPicture = (kind === 'pictures' || kind === 'small') && share.pictures.some(({ file }) => file === name);
  const isPaper = kind === 'papers' && PAPERS.some((paper) => paper === name);
  if (!isPicture && !isPaper) return null;
  const path = isPicture ? join(share.folder, kind, name) : join(share.folder, name);
  const there = await stat(path).catch(() => null);
  return there?.isFile() ? { path, bytes: there.size, type: TYPES[name.split('.').at(-1)!]! } : null;
}

const TYPES: Readonly<Record<string, string>> = {
  jpg: 'image/jpeg',
  pdf: 'application/pdf',
  csv: 'text/csv; charset=utf-8',
  txt: 'text/plain; charset=utf-8',
};
