/** What was handed over to the organiser: `made/organiser/handed.json`. Names of files and frames, no path of this machine. */
import { mkdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';
import { type HandedSet, OrganiserError } from '../../core/handover/organiser/index.js';
import { writeAtomically } from '../finish/index.js';

const schema = z.object({
  v: z.literal(1),
  handed: z.array(
    z.object({
      at: z.number(),
      wall: z.number(),
      is: z.enum(['set', 'choice']),
      pictures: z.array(z.object({ number: z.number(), file: z.string(), frameId: z.string() })),
    }),
  ),
});

const pathIn = (meetingFolder: string): string => join(meetingFolder, 'made', 'organiser', 'handed.json');

/** In the order they went. */
export async function readHanded(meetingFolder: string): Promise<readonly HandedSet[]> {
  const path = pathIn(meetingFolder);
  const text = await readFile(path, 'utf8').catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return null;
    throw error;
  });
  if (text === null) return [];
  try {
    return schema.parse(JSON.parse(text)).handed as unknown as readonly HandedSet[];
  } catch {
    const sentence = `Expected what was handed over to the organiser in ${path} but it holds something else. Put it back from the second disk, or remove it: then only the record is gone.`;
    throw new OrganiserError(sentence, path);
  }
}

export async function keepHanded(meetingFolder: string, handed: HandedSet): Promise<void> {
  const before = await readHanded(meetingFolder);
  await mkdir(join(meetingFolder, 'made', 'organiser'), { recursive: true });
  const all = { v: 1, handed: [...before, handed] };
  await writeAtomically(pathIn(meetingFolder), `${JSON.stringify(all, null, 2)}\n`);
}
