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
import { type OrderId, type StoredFact, stateOf } from '../../core/handover/orders/index.js';
import { type EpochMs, epochMsOf } from '../../core/units.js';
import { filesIn } from '../gallery/takeDown.js';
import type { MeetingAbout, People } from '../meeting/index.js';
import { writeWhole } from '../meeting/writeWhole.js';
import { putUpStandings } from '../putUp/index.js';
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
  /** Orders whose links are to be taken back there. */
  readonly links: readonly OrderId[];
  /** Places that are to let go of the gallery. */
  readonly places: readonly string[];
}

/** These lie elsewhere, which may not be reached: they are named until it has let go of them. */
const ELSEWHERE = ['put-up', 'links', 'order-contacts'] as const satisfies readonly KeptKind[];
type Elsewhere = (typeof ELSEWHERE)[number];
const isElsewhere = (kind: KeptKind): kind is Elsewhere => ELSEWHERE.some((one) => one === kind);

/** Says what is near its end, deletes what was said long enough. Run again it changes nothing more. */
export async function keepAsSaid(meeting: KeptMeeting): Promise<KeepReport> {
  const plans = await lookAtKept(meeting);
  const gone: Partial<Record<KeptKind, number>> = {};
  const { saidAt, ...rest } = await readKept(meeting.folder);
  const said: KeptFile['saidAt'] = {};
  for (const { kind, standing, count } of plans) {
    if (standing === 'to-be-said') said[kind] = meeting.now();
    if (standing === 'said') said[kind] = saidAt[kind]!;
    if (standing !== 'due') continue;
    if (isElsewhere(kind)) said[kind] = saidAt[kind]!;
    else {
      await REMOVE[kind](meeting);
      gone[kind] = count;
    }
  }
  const isDue = (kind: Elsewhere): boolean => plans.some((one) => one.kind === kind && one.standing === 'due');
  const dueOf = (kind: OfOrders): readonly OrderId[] =>
    isDue(kind) ? dueOrders(kind, meeting).map(({ order }) => order) : [];
  if (plans.some(({ standing }) => standing !== 'kept' && standing !== 'stopped') || Object.keys(saidAt).length > 0)
    await writeKept(meeting.folder, { ...rest, saidAt: rest.isStopped ? {} : said });
  return {
    plans: await lookAtKept(meeting),
    gone,
    orders: dueOf('order-contacts'),
    links: dueOf('links'),
    places: isDue('put-up') ? (await putUpNow(meeting)).map(({ place }) => place) : [],
  };
}

const REMOVE: Readonly<Record<Exclude<KeptKind, Elsewhere>, (meeting: KeptMeeting) => Promise<void>>> = {
  async galleries({ folder }) {
    await removeWithin(folder, 'made/gallery');
    await removeWithin(folder, 'made/put-up/first');
  },
  // What went to whom stays known: names of files and frames, nothing of a person.
  async organiser({ folder }) {
    const all = await readdir(join(folder, 'made/organiser')).catch(() => []);
    for (const name of all.filter((one) => one !== HANDED)) await removeWithin(folder, `made/organiser/${name}`);
  },
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

const HANDED = 'handed.json';
const MAY_GO = /^(?:made\/(?:gallery|put-up\/first|proofs|finals|organiser\/[^/]+)|crops|pictures)$/;

/** The only way anything is deleted here. A link that leads elsewhere is removed, not followed. */
async function removeWithin(root: string, folder: string): Promise<void> {
  const path = join(root, folder);
  const within = relative(root, path).split(sep).join('/');
  if (isAbsolute(within) || !MAY_GO.test(within)) {
    const sentence = `Expected a folder that may be made again but got ${path}. Nothing was deleted.`;
    throw new LawError(sentence, path);
  }
  await rm(path, { recursive: true, force: true });
}

async function inventory(meeting: KeptMeeting): Promise<readonly Kept[]> {
  const { folder, stateFolder, about, people } = meeting;
  const from = epochMsOf(Date.parse(`${about.lastDay}T00:00:00Z`));
  const made = (name: string): Promise<Weight> => weigh(join(folder, 'made', name));
  const forOrganiser = await weigh(join(folder, 'made/organiser'), HANDED);
  const atPlaces = (await putUpNow(meeting)).map(({ files, bytes }) => ({ count: files, bytes }));
  return [
    { kind: 'galleries', ...sum(await made('gallery'), await made('put-up/first')), from },
    { kind: 'put-up', ...atPlaces.reduce(sum, NOTHING), from },
    { kind: 'proofs', ...(await made('proofs')), from },
    { kind: 'finals', ...(await made('finals')), from },
    { kind: 'organiser', ...forOrganiser, from },
    {
      kind: 'crops',
      ...sum(await weigh(join(stateFolder, 'crops')), await weigh(join(stateFolder, 'pictures'))),
      from,
    },
    { kind: 'contacts', count: people.all().length, bytes: 0, from },
    ofOrders('links', meeting),
    ofOrders('order-contacts', meeting),
  ];
}

const putUpNow = async ({ folder, now }: KeptMeeting) =>
  (await putUpStandings(folder, new Set(), new Date(now()))).filter(({ at }) => at !== null);

interface Weight {
  readonly count: number;
  readonly bytes: number;
}
const sum = (a: Weight, b: Weight): Weight => ({ count: a.count + b.count, bytes: a.bytes + b.bytes });

const NOTHING: Weight = { count: 0, bytes: 0 };

async function weigh(folder: string, without?: string): Promise<Weight> {
  const sizes = (await filesIn(folder))
    .filter((path) => path !== without)
    .map((path) =>
      stat(join(folder, path)).then(
        ({ size }) => size,
        () => 0,
      ),
    );
  return (await Promise.all(sizes)).reduce<Weight>((all, bytes) => sum(all, { count: 1, bytes }), NOTHING);
}

type OfOrders = 'links' | 'order-contacts';

/** Orders that still have a link, or a name and an address. */
function openOrders(kind: OfOrders, { orders }: KeptMeeting): readonly StoredFact[] {
  const placed = orders.filter(({ fact }) => fact.kind === 'placed');
  const of = (order: OrderId) => orders.filter((one) => one.order === order);
  if (kind === 'links') return placed.filter(({ order }) => stateOf(order, of(order)).link?.isRevoked === false);
  return placed.filter(({ order }) => !of(order).some(({ fact }) => fact.kind === 'contact-removed'));
}

/** Those whose end is near, and before any is, all: whose day is the first of them. */
function ofOrders(kind: OfOrders, meeting: KeptMeeting): Kept {
  const all = openOrders(kind, meeting);
  const until = meeting.now() + (NOTICE_DAYS - daysOf(meeting.about)[kind]) * DAY_MS;
  const near = all.filter(({ at }) => at <= until);
  const { length: count } = near.length > 0 ? near : all;
  const from = all.reduce((first, { at }) => Math.min(first, at), Number.MAX_SAFE_INTEGER);
  return { kind, count, bytes: 0, from: epochMsOf(from) };
}

function dueOrders(kind: OfOrders, meeting: KeptMeeting): readonly StoredFact[] {
  const ms = daysOf(meeting.about)[kind] * DAY_MS;
  return openOrders(kind, meeting).filter(({ at }) => at + ms <= meeting.now());
}
