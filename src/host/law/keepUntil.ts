/**
 * What has been kept long enough goes by itself, a week after it was said. What was said and whether somebody stopped it lies in
 * `made/kept.json`. Only `made/`, `people/` and this machine's picture cache are touched: the way to everything else is refused.
 * Rules LW12 to LW14.
 */
import { mkdir, readdir, readFile, rm, stat } from 'node:fs/promises';
import { isAbsolute, join, relative, sep } from 'node:path';
import { z } from 'zod';
import {
  KEPT_KINDS,
  type KeepDays,
  type Kept,
  type KeptKind,
  type KeptPlan,
  NOTICE_DAYS,
  planRetention,
  USUAL_DAYS,
} from '../../core/handover/law/index.js';
import type { OrderId, StoredFact } from '../../core/handover/orders/index.js';
import { type EpochMs, epochMsOf } from '../../core/units.js';
import { filesIn } from '../gallery/takeDown.js';
import type { MeetingAbout, People } from '../meeting/index.js';
import { writeWhole } from '../meeting/writeWhole.js';
import { LawError } from './lawError.js';

export interface KeptMeeting {
  readonly folder: string;
  readonly stateFolder: string;
  readonly about: Pick<MeetingAbout, 'lastDay' | 'keepDays'>;
  readonly people: Pick<People, 'all' | 'erase'>;
  readonly orders: readonly StoredFact[];
  readonly now: () => number;
}

const keptFile = z.object({
  v: z.literal(1),
  isStopped: z.boolean(),
  /** When it was said that a kind goes. */
  saidAt: z.partialRecord(z.enum(KEPT_KINDS), z.number()),
});
type KeptFile = z.infer<typeof keptFile>;

const DAY_MS = 86_400_000;

const pathOf = (folder: string): string => join(folder, 'made', 'kept.json');

async function readKept(folder: string): Promise<KeptFile> {
  const path = pathOf(folder);
  const text = await readFile(path, 'utf8').catch(() => null);
  if (text === null) return { v: 1, isStopped: false, saidAt: {} };
  try {
    return keptFile.parse(JSON.parse(text));
  } catch (cause) {
    const sentence = `Expected what was said about keeping in ${path} but it holds something else. Remove it: nothing goes before it was said for a week anew.`;
    throw new LawError(sentence, path, cause);
  }
}

async function writeKept(folder: string, kept: KeptFile): Promise<void> {
  await mkdir(join(folder, 'made'), { recursive: true });
  await writeWhole(pathOf(folder), `${JSON.stringify(kept, null, 1)}\n`);
}

const daysOf = ({ keepDays }: KeptMeeting['about']): KeepDays => ({ ...USUAL_DAYS, ...keepDays });

/** Changes nothing: what there is, how long it stays, and what would go. */
export async function lookAtKept(meeting: KeptMeeting): Promise<readonly KeptPlan[]> {
  const { saidAt, isStopped } = await readKept(meeting.folder);
  return planRetention({
    kept: await inventory(meeting),
    days: daysOf(meeting.about),
    saidAt: saidAt as Partial<Record<KeptKind, EpochMs>>,
    isStopped,
    now: epochMsOf(meeting.now()),
  });
}

export async function sayRetention(folder: string, isStopped: boolean): Promise<void> {
  const kept = await readKept(folder);
  // What was stopped is said for a week once more before it goes.
  await writeKept(folder, { ...kept, isStopped, saidAt: isStopped ? {} : kept.saidAt });
}

export interface KeepReport {
  readonly plans: readonly KeptPlan[];
  /** Of kinds that went in this run, how many things. */
  readonly gone: Readonly<Partial<Record<KeptKind, number>>>;
  /** Orders whose contact is to go at the order service. */
  readonly orders: readonly OrderId[];
}

/** Says what is near its end, deletes what was said long enough. Run again it changes nothing more. */
export async function keepAsSaid(meeting: KeptMeeting): Promise<KeepReport> {
  const plans = await lookAtKept(meeting);
  const gone: Partial<Record<KeptKind, number>> = {};
  const orders: OrderId[] = [];
  const { saidAt, ...rest } = await readKept(meeting.folder);
  const said: KeptFile['saidAt'] = {};
  for (const { kind, standing, count } of plans) {
    if (standing === 'to-be-said') said[kind] = meeting.now();
    if (standing === 'said') said[kind] = saidAt[kind]!;
    if (standing !== 'due') continue;
    if (kind === 'order-contacts') orders.push(...dueOrders(meeting).map(({ order }) => order));
    else await REMOVE[kind](meeting);
    gone[kind] = count;
    // The service may not be reached: its orders are named until it has let go of them.
    if (kind === 'order-contacts') said[kind] = saidAt[kind]!;
  }
  if (plans.some(({ standing }) => standing !== 'kept' && standing !== 'stopped') || Object.keys(saidAt).length > 0)
    await writeKept(meeting.folder, { ...rest, saidAt: rest.isStopped ? {} : said });
  return { plans: await lookAtKept(meeting), gone, orders };
}

const REMOVE: Readonly<Record<Exclude<KeptKind, 'order-contacts'>, (meeting: KeptMeeting) => Promise<void>>> = {
  galleries: ({ folder }) => removeWithin(folder, 'made/gallery'),
  proofs: ({ folder }) => removeWithin(folder, 'made/proofs'),
  finals: ({ folder }) => removeWithin(folder, 'made/finals'),
  crops: async ({ stateFolder }) => {
    await removeWithin(stateFolder, 'crops');
    await removeWithin(stateFolder, 'pictures');
    await mkdir(join(stateFolder, 'pictures'), { recursive: true, mode: 0o700 });
  },
  contacts: async ({ people }) => {
    for (const { id } of people.all()) await people.erase(id);
  },
};

const MAY_GO = ['made/gallery', 'made/proofs', 'made/finals', 'crops', 'pictures'];

/** The only way anything is deleted here. A link that leads elsewhere is removed, not followed. */
async function removeWithin(root: string, folder: string): Promise<void> {
  const path = join(root, folder);
  const within = relative(root, path).split(sep).join('/');
  if (isAbsolute(within) || !MAY_GO.includes(within)) {
    const sentence = `Expected a folder that may be made again but got ${path}. Nothing was deleted.`;
    throw new LawError(sentence, path);
  }
  await rm(path, { recursive: true, force: true });
}

async function inventory(meeting: KeptMeeting): Promise<readonly Kept[]> {
  const { folder, stateFolder, about, people } = meeting;
  const from = epochMsOf(Date.parse(`${about.lastDay}T00:00:00Z`));
  const orders = nearestContacts(meeting);
  return [
    { kind: 'galleries', ...(await weigh(join(folder, 'made/gallery'))), from },
    { kind: 'proofs', ...(await weigh(join(folder, 'made/proofs'))), from },
    { kind: 'finals', ...(await weigh(join(folder, 'made/finals'))), from },
    {
      kind: 'crops',
      ...sum(await weigh(join(stateFolder, 'crops')), await weigh(join(stateFolder, 'pictures'))),
      from,
    },
    { kind: 'contacts', count: people.all().length, bytes: 0, from },
    {
      kind: 'order-contacts',
      count: orders.length,
      bytes: 0,
      from: epochMsOf(orders.reduce((first, { at }) => Math.min(first, at), Number.MAX_SAFE_INTEGER)),
    },
  ];
}

interface Weight {
  readonly count: number;
  readonly bytes: number;
}
const sum = (a: Weight, b: Weight): Weight => ({ count: a.count + b.count, bytes: a.bytes + b.bytes });

async function weigh(folder: string): Promise<Weight> {
  const there = await readdir(folder).catch(() => []);
  if (there.length === 0) return { count: 0, bytes: 0 };
  const sizes = (await filesIn(folder)).map((path) =>
    stat(join(folder, path)).then(
      ({ size }) => size,
      () => 0,
    ),
  );
  return (await Promise.all(sizes)).reduce<Weight>((all, bytes) => sum(all, { count: 1, bytes }), {
    count: 0,
    bytes: 0,
  });
}

/** Orders that still have a name and an address. */
function contactsOf(facts: readonly StoredFact[]): readonly StoredFact[] {
  const removed = new Set(facts.filter(({ fact }) => fact.kind === 'contact-removed').map(({ order }) => order));
  return facts.filter(({ order, fact }) => fact.kind === 'placed' && !removed.has(order));
}

/** Those whose end is near, and before any is, all: whose day is the first of them. */
function nearestContacts({ orders, about, now }: KeptMeeting): readonly StoredFact[] {
  const all = contactsOf(orders);
  const until = now() + (NOTICE_DAYS - daysOf(about)['order-contacts']) * DAY_MS;
  const near = all.filter(({ at }) => at <= until);
  return near.length > 0 ? near : all;
}

function dueOrders({ orders, about, now }: KeptMeeting): readonly StoredFact[] {
  const ms = daysOf(about)['order-contacts'] * DAY_MS;
  return contactsOf(orders).filter(({ at }) => at + ms <= now());
}
