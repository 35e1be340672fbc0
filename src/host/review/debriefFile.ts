/** A meeting's rates kept in its folder, so that another meeting can be set beside them when this one's cards are long gone. */
import { mkdir, readFile, stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { z } from 'zod';
import type { SpotId } from '../../core/ids.js';
import type { ComparedRates, HitRate, NamedDebrief } from '../../core/review/debrief/index.js';
import { writeWhole } from '../meeting/writeWhole.js';
import { DebriefError } from './debriefError.js';
import type { DebriefOfDay } from './debriefOfDay.js';
import { titleOf } from './meetingWords.js';

const VERSION = 1;
const FILE = join('made', 'debrief.json');

/**
 * Writes `made/debrief.json`; what was there before is whole until then. Of nothing nothing is kept, for an older file may know more: it
 * answers whether it wrote.
 */
export async function keepDebrief(
  meetingFolder: string,
  { meeting, spotNames, debrief }: DebriefOfDay,
): Promise<boolean> {
  if (debrief.all === null) return false;
  const { all, byShutter, bySpot, byGroup, byFocalLength, crossed } = debrief;
  const rates: ComparedRates = {
    all: withoutFrames(all),
    byShutter: byShutter.map(withoutFrames),
    bySpot: bySpot.map(withoutFrames),
    byGroup: byGroup.map(withoutFrames),
    byFocalLength: byFocalLength.map(withoutFrames),
    crossed: crossed.map(withoutFrames),
  };
  const path = join(meetingFolder, FILE);
  const kept = { v: VERSION, meeting, spotNames: Object.fromEntries(spotNames), rates };
  try {
    await mkdir(dirname(path), { recursive: true });
    await writeWhole(path, `${JSON.stringify(kept, null, 1)}\n`);
    return true;
  } catch (cause) {
    throw new DebriefError(
      `Expected to keep the rates in ${path} but ${(cause as Error).message}. What was there before still is.`,
      path,
      cause,
    );
  }
}

/** Elsewhere its frames mean nothing. */
const withoutFrames = (rate: HitRate): HitRate => ({ ...rate, evidence: [] });

const count = z.number().int().nonnegative();
const share = z.number().min(0).max(1);
const rate = z.object({
  kind: z.literal('measurement'),
  of: z.object({
    shutterS: z.number().positive().optional(),
    spot: z.string().optional(),
    group: z.string().optional(),
    focalMm: z.number().positive().optional(),
  }),
  bikes: count,
  hits: count,
  soft: count,
  cut: count,
  passes: count,
  share: z.object({ share, from: share, to: share }),
  isFew: z.boolean(),
  evidence: z.array(z.never()),
});
const rates = z.array(rate);

const FILE_SCHEMA = z.object({
  v: z.literal(VERSION),
  meeting: z.object({ id: z.string(), name: z.string(), firstDay: z.string(), lastDay: z.string() }),
  spotNames: z.record(z.string(), z.string()),
  rates: z.object({
    all: rate.nullable(),
    byShutter: rates,
    bySpot: rates,
    byGroup: rates,
    byFocalLength: rates,
    crossed: rates,
  }),
});

/** A meeting's rates read back. */
export interface KeptDebrief extends NamedDebrief {
  readonly id: string;
}

/** @param place a meeting's folder, or the file itself */
export async function readDebrief(place: string): Promise<KeptDebrief> {
  const isFolder = await stat(place).then(
    (found) => found.isDirectory(),
    () => false,
  );
  const path = isFolder ? join(place, FILE) : place;
  const text = await readFile(path, 'utf8').catch((cause: Error) => {
    throw new DebriefError(
      `Expected the rates of another meeting in ${path} but there are none to read. Run tyrewall debrief for that meeting once, then compare again.`,
      path,
      cause,
    );
  });
  return debriefIn(text, path);
}

/** @param path where the text is from, for sentences */
export function debriefIn(text: string, path: string): KeptDebrief {
  const { meeting, spotNames, rates: read } = parsed(text, path);
  return {
    id: meeting.id,
    meeting: titleOf(meeting),
    rates: read as unknown as ComparedRates,
    spotName: (spot: SpotId) => spotNames[spot] ?? spot,
  };
}

function parsed(text: string, path: string): z.infer<typeof FILE_SCHEMA> {
  try {
    return FILE_SCHEMA.parse(JSON.parse(text));
  } catch (cause) {
    const what = cause instanceof z.ZodError ? faultOf(cause) : 'it is no JSON';
    throw new DebriefError(
      `Expected rates as tyrewall debrief keeps them in ${path} but ${what}. Run it for that meeting again, then compare.`,
      path,
      cause,
    );
  }
}

function faultOf({ issues }: z.ZodError): string {
  const first = issues[0];
  return first === undefined ? 'it is something else' : `${first.path.join('.')}: ${first.message}`;
}
