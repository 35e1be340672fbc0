/**
 * All that is known of one rider or person, as a folder to be given to them: the camera's pictures they are in, the data as JSON, and
 * a page to read. Regulation (EU) 2016/679, art. 15 (what is kept, a copy) and 20 (in a form machines read). Rule LW19.
 */
import { copyFile, mkdir, readdir } from 'node:fs/promises';
import { extname, join } from 'node:path';
import type { Arrangement, Rider } from '../../core/arrange/types.js';
import { namesOf, ridersByFrame, ridersOfPersons } from '../../core/finish/index.js';
import type { PublicIdOf } from '../../core/handover/index.js';
import type { StoredFact } from '../../core/handover/orders/index.js';
import type { FrameId, PersonId, RiderKey } from '../../core/ids.js';
import { type Decision, type FoldedLog, takenDown } from '../../core/log/index.js';
import type { DayState } from '../day/types.js';
import type { People, Person } from '../meeting/index.js';
import { writeWhole } from '../meeting/writeWhole.js';
import { LawError } from './lawError.js';

export interface ExportWish {
  readonly of:
    | { readonly kind: 'rider'; readonly rider: RiderKey }
    | { readonly kind: 'person'; readonly person: PersonId };
  /** Made new; whatever lies there already is left alone and refused. */
  readonly to: string;
  readonly state: Pick<DayState, 'about' | 'arrangement' | 'log' | 'pixels' | 'keepers'>;
  readonly people: Pick<People, 'get'>;
  readonly orders: readonly StoredFact[];
  readonly originalOf: (frame: FrameId) => string | null;
  readonly idOf: PublicIdOf;
}

export interface Exported {
  readonly folder: string;
  readonly pictures: number;
  /** Others are in these, too: to be looked at before they are given away. */
  readonly shared: number;
  readonly missing: readonly string[];
}

export async function exportPerson(wish: ExportWish): Promise<Exported> {
  await openEmpty(wish.to);
  const riders = ridersMeant(wish);
  const person = wish.of.kind === 'person' ? wish.people.get(wish.of.person) : undefined;
  const frames = framesOf(riders, wish.state.arrangement);
  const names = namesOf(wish.state.arrangement.exposures);
  const seen = ridersByFrame(wish.state.arrangement);
  const isShared = (frame: FrameId): boolean => (seen.get(frame) ?? []).some((one) => !riders.includes(one));
  await mkdir(join(wish.to, 'pictures'));
  const missing: string[] = [];
  const pictures = [];
  for (const frame of frames) {
    const original = wish.originalOf(frame);
    const name = `${names.get(frame)}${original === null ? '' : extname(original).toLowerCase()}`;
    const wasCopied = original !== null && (await copied(original, join(wish.to, 'pictures', name)));
    if (!wasCopied) missing.push(name);
    pictures.push(pictureOf(frame, wasCopied ? `pictures/${name}` : null, isShared(frame), riders, wish));
  }
  const orders = ordersOf(person, wish.orders);
  const data = {
    v: 1,
    meeting: { name: wish.state.about.name, firstDay: wish.state.about.firstDay, lastDay: wish.state.about.lastDay },
    person: person ?? null,
    riders: riders.map((rider) => riderData(rider, wish)),
    pictures,
    said: saidOf(wish, riders, person),
    orders,
  };
  await writeWhole(join(wish.to, 'data.json'), `${JSON.stringify(data, null, 1)}\n`);
  await writeWhole(join(wish.to, 'index.html'), pageOf(data, missing));
  return {
    folder: wish.to,
    pictures: pictures.length - missing.length,
    shared: frames.filter(isShared).length,
    missing,
  };
}

async function openEmpty(folder: string): Promise<void> {
  await mkdir(folder, { recursive: true });
  const [first] = await readdir(folder);
  if (first === undefined) return;
  const sentence = `Expected an empty or new folder at ${folder} but it holds ${first}. Name another one.`;
  throw new LawError(sentence, folder);
}

function ridersMeant({ of, state }: ExportWish): readonly Rider[] {
  const { arrangement, log } = state;
  const keys = of.kind === 'rider' ? new Set([of.rider]) : ridersOfPersons(arrangement, log, new Set([of.person]));
  return arrangement.riders.filter(({ key }) => keys.has(key));
}

function framesOf(riders: readonly Rider[], { exposures, passes, saidBikes }: Arrangement): readonly FrameId[] {
  const keys = new Set(riders.map(({ key }) => key));
  const frames = new Set([
    ...passes.filter(({ rider }) => keys.has(rider)).flatMap(({ bikes }) => bikes.map(({ frameId }) => frameId)),
    ...saidBikes.filter(({ rider }) => keys.has(rider)).map(({ frameId }) => frameId),
  ]);
  return exposures.map(({ frameId }) => frameId).filter((frame) => frames.has(frame));
}

const copied = (from: string, to: string): Promise<boolean> =>
  copyFile(from, to).then(
    () => true,
    () => false,
  );

function riderData(rider: Rider, { state, idOf }: ExportWish) {
  const { code, livery, number, numberSource, groups, id, aliases, source } = rider;
  const down = takenDown(state.log).riders;
  const ids = id === null ? aliases : [id, ...aliases];
  return {
    code,
    livery,
    number,
    numberSource,
    groups,
    source,
    addresses: ids.map((one) => idOf('rider', one)),
    isTakenDown: ids.some((one) => down.has(one)),
  };
}

/** What was measured of the bikes of these riders, and of nobody else in the frame. */
function pictureOf(
  frame: FrameId,
  file: string | null,
  isShared: boolean,
  riders: readonly Rider[],
  { state: { arrangement, pixels }, idOf }: ExportWish,
) {
  const exposure = arrangement.exposures.find(({ frameId }) => frameId === frame)!;
  const keys = new Set(riders.map(({ key }) => key));
  const passes = arrangement.passes.filter(
    ({ rider, bikes }) => keys.has(rider) && bikes.some(({ frameId }) => frameId === frame),
  );
  const measured = pixels.get(frame);
  const subjects = passes.flatMap(({ bikes }) =>
    bikes.flatMap(({ frameId, subject }) =>
      frameId === frame && measured?.kind === 'measured' ? [measured.subjects[subject]] : [],
    ),
  );
  const session = exposure.session === null ? null : (arrangement.sessions[exposure.session]?.name ?? null);
  return {
    file,
    taken: exposure.wall === null ? null : new Date(exposure.wall).toISOString().slice(0, 19),
    session,
    spot: exposure.spot,
    address: idOf('frame', frame),
    isShared,
    howSure: passes.map(({ confidence, why }) => ({ confidence: confidence ?? null, why: why ?? null })),
    measured: subjects.filter((one) => one !== undefined),
  };
}

/** The day it was said of them and what kind of word it was; not of whom else it spoke. */
function saidOf({ state, of }: ExportWish, riders: readonly Rider[], person: Person | undefined) {
  const ids = new Set<string>(riders.flatMap(({ id, aliases }) => (id === null ? aliases : [id, ...aliases])));
  const who = person?.id ?? (of.kind === 'person' ? of.person : null);
  const isAbout = (decision: Decision): boolean => {
    const { rider, person: named } = decision as { rider?: string; person?: string };
    return (
      (rider !== undefined && ids.has(rider)) || (named !== undefined && named === who) || isEntryOf(decision, who)
    );
  };
  return state.log.inForce
    .filter(({ decision }) => isAbout(decision) || isPublished(decision, ids))
    .map(({ line, decision }) => ({ at: new Date(line.at).toISOString(), ...aboutThem(decision, ids, who) }));
}

const isEntryOf = (decision: Decision, person: string | null): boolean =>
  decision.kind === 'entries' && person !== null && decision.entries.some((entry) => entry.person === person);

const isPublished = (decision: Decision, ids: ReadonlySet<string>): boolean =>
  decision.kind === 'published' && Object.keys(decision.riders).some((rider) => ids.has(rider));

function aboutThem(decision: FoldedLog['inForce'][number]['decision'], ids: ReadonlySet<string>, who: string | null) {
  if (decision.kind === 'entries')
    return { kind: decision.kind, entries: decision.entries.filter((entry) => entry.person === who) };
  if (decision.kind === 'published') {
    const pictures = Object.entries(decision.riders).flatMap(([rider, files]) => (ids.has(rider) ? files : [])).length;
    return { kind: decision.kind, edition: decision.edition, pictures };
  }
  if (decision.kind === 'rider-is')
    return { kind: decision.kind, number: decision.number ?? null, class: decision.class ?? null };
  return { kind: decision.kind, ...('is' in decision ? { is: decision.is } : {}) };
}

/** By the contact they gave, however it is written. */
function ordersOf(person: Person | undefined, facts: readonly StoredFact[]): readonly StoredFact[] {
  const contact = person?.contact?.trim().toLowerCase();
  if (contact === undefined || contact === '') return [];
  const own = new Set(
    facts
      .filter(({ fact }) => fact.kind === 'placed' && fact.contact.mail.trim().toLowerCase() === contact)
      .map(({ order }) => order),
  );
  return facts.filter(({ order }) => own.has(order));
}

const ESCAPES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};
const escaped = (text: unknown): string => String(text ?? '').replace(/[&<>"']/g, (one) => ESCAPES[one]!);

interface PageData {
  readonly meeting: { readonly name: string; readonly firstDay: string };
  readonly person: Person | null;
  readonly riders: readonly ReturnType<typeof riderData>[];
  readonly pictures: readonly ReturnType<typeof pictureOf>[];
  readonly said: readonly { readonly at: string; readonly kind: string }[];
  readonly orders: readonly StoredFact[];
}

function pageOf({ meeting, person, riders, pictures, said, orders }: PageData, missing: readonly string[]): string {
  const rows = (all: readonly (readonly [string, unknown])[]): string =>
    all.map(([name, value]) => `<tr><th scope="row">${escaped(name)}</th><td>${escaped(value)}</td></tr>`).join('\n');
  const known: readonly (readonly [string, unknown])[] = [
    ['Name', person?.name ?? 'none kept'],
    ['Contact', person?.contact ?? 'none kept'],
    ['Number card', person?.card ?? 'none'],
    ...Object.entries(person?.wants ?? {}).map(([entry, wants]) => [`Booked (${entry})`, wants] as const),
    ...riders.flatMap((rider) => [
      ['Known in pictures as', `${rider.livery}${rider.number === null ? '' : `, number ${rider.number}`}`] as const,
      ['Groups', rider.groups.join(', ')] as const,
    ]),
  ];
  const items = pictures.map(({ file, taken, session, isShared }) => {
    const words = [taken, session && `session ${session}`, isShared && 'shows others too'].filter(Boolean).join(', ');
    const name = escaped(words || 'no time known');
    return file === null ? `<li>${name}: not on this machine</li>` : `<li><a href="${escaped(file)}">${name}</a></li>`;
  });
  return `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width">
<title>What is kept of you: ${escaped(meeting.name)}</title></head>
<body><main><h1>What is kept of you: ${escaped(meeting.name)}, ${escaped(meeting.firstDay)}</h1>
<p>Everything is in <a href="data.json">data.json</a> as well, with what was measured of bike and clothing. Faces are not measured.</p>
<table>
${rows(known)}
</table>
<h2>Pictures: ${pictures.length}</h2>
<ul>
${items.join('\n')}
</ul>
${missing.length === 0 ? '' : `<p>${missing.length} of them could not be copied; their card is not on this machine.</p>`}
<h2>What was said</h2>
<ul>
${said.map(({ at, kind }) => `<li>${escaped(at.slice(0, 16).replace('T', ' '))}: ${escaped(kind)}</li>`).join('\n')}
</ul>
<h2>Orders: ${new Set(orders.map(({ order }) => order)).size}</h2>
</main></body></html>
`;
}
