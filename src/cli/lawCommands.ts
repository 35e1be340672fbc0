/** `tyrewall take-down`, `hold`, `minor`: what must not be shown, said once and carried everywhere. */
import { existsSync } from 'node:fs';
import { basename, join } from 'node:path';
import { v7 as uuidv7 } from 'uuid';
import type { Exposure, Rider } from '../core/arrange/types.js';
import { namesOf } from '../core/finish/index.js';
import type { PublicIdOf } from '../core/handover/index.js';
import { isWhole, planTakeDown, sayMinor, type TakeDownProof, type ToTakeDown } from '../core/handover/law/index.js';
import type { GestureId, PersonId, RiderId } from '../core/ids.js';
import type { Decision } from '../core/log/types.js';
import type { DayState } from '../host/day/types.js';
import { meetingSecret } from '../host/gallery/index.js';
import { publicIdsOf } from '../host/gallery/secret.js';
import {
  downBy,
  everyPlace,
  forgetLaid,
  framesByName,
  heldFrames,
  type PlaceToClear,
  proofsOf,
  type ShopToTell,
  shopPlace,
  takeDownAt,
  unreachedShop,
} from '../host/law/index.js';
import { fetchedOrdersPath } from '../host/orders/fetchedOrders.js';
import { CliError } from './cliError.js';
import { openWholeDay, type WholeDay } from './openWholeDay.js';
import { type AskWish, clientOf, dataFolderOf } from './ordersCommand.js';
import { type MeetingWish, sayDecisions } from './sayDecisions.js';
import { counted, onOneLine } from './words.js';

type Say = (line: string) => void;

export interface TakeDownWish extends MeetingWish, AskWish {
  /** A code, or the public id at the end of an address. */
  readonly rider?: string;
  readonly picture?: readonly string[];
  readonly person?: string;
  readonly dryRun?: boolean;
  readonly again?: boolean;
  /** A folder pictures were laid into, and that was deleted. */
  readonly gone?: string;
}

export async function takeDownCommand(folder: string, wish: TakeDownWish, say: Say = console.log): Promise<void> {
  if (wish.again) return againCommand(folder, wish, say);
  const meetingWish: MeetingWish = wish.stateRoot === undefined ? {} : { stateRoot: wish.stateRoot };
  const asked = await looking(folder, meetingWish, async ({ meeting, state, idOf }) => {
    const what = toTakeDown(wish, state, idOf, meeting.people);
    const plan = planTakeDown(what, { ...state, mint: () => uuidv7() as RiderId });
    return { what, plan };
  });
  const { plan, what } = asked;
  say(
    `${counted(plan.frames.length, 'frame')} to be taken down, ${plan.shared.length} of them with another rider in it.`,
  );
  if (wish.dryRun) return say('Nothing was said or removed.');
  const gesture = await sayDecisions(folder, meetingWish, plan.decisions);
  await looking(folder, meetingWish, (here) => carryOut(here, gesture, what.kind, wish, say));
}

async function againCommand(folder: string, wish: TakeDownWish, say: Say): Promise<void> {
  const open = (await proofsOf(folder)).filter((proof) => !isWhole(proof));
  if (open.length === 0) return say('No takedown is pending anywhere.');
  await looking(folder, wish.stateRoot === undefined ? {} : { stateRoot: wish.stateRoot }, async (here) => {
    const troubles: unknown[] = [];
    for (const { gesture, asked } of open)
      await carryOut(here, gesture, asked, wish, say).catch((trouble: unknown) => troubles.push(trouble));
    if (wish.gone !== undefined) await forgetLaid(here.meeting.stateFolder, wish.gone);
    if (troubles.length > 0) throw troubles[0];
  });
}

export interface Here {
  readonly meeting: WholeDay['meeting'];
  readonly otherDisks: readonly string[];
  readonly state: DayState;
  readonly idOf: PublicIdOf;
}

/** The desk may have the meeting open: a look is enough, what is said goes through it. */
async function looking<T>(folder: string, wish: MeetingWish, work: (here: Here) => Promise<T> | T): Promise<T> {
  const whole = await openWholeDay(folder, { ...wish, isForLooking: true });
  try {
    const state = await whole.day.settled();
    const idOf = publicIdsOf(await meetingSecret(whole.meeting.folder));
    return await work({ meeting: whole.meeting, otherDisks: whole.otherDisks, state, idOf });
  } finally {
    await whole.close();
  }
}

export async function carryOut(
  here: Here,
  gesture: GestureId,
  asked: TakeDownProof['asked'],
  wish: TakeDownWish,
  say: Say,
): Promise<void> {
  const { meeting, state, idOf } = here;
  const { proof, path } = await takeDownAt({
    meetingFolder: meeting.folder,
    meeting: state.about.name,
    gesture,
    asked,
    down: downBy(gesture, state, idOf),
    places: await placesOf(here, gesture, wish),
    now: Date.now,
  });
  const removed = proof.places.reduce((sum, place) => sum + place.removed.length, 0);
  say(`${counted(removed, 'thing')} removed in ${counted(proof.places.length, 'place')}. The proof: ${path}`);
  const pending = proof.places.flatMap((one) => (one.standing === 'pending' ? [one] : []));
  for (const { place, sentence } of pending) say(`! ${place}: ${onOneLine(sentence)}`);
  if (pending.length > 0)
    throw new CliError(
      `${counted(pending.length, 'place')} could not let go of everything. The meeting shows it nowhere; say tyrewall take-down --again later.`,
    );
}

async function placesOf(
  { meeting, otherDisks, state, idOf }: Here,
  gesture: GestureId,
  wish: TakeDownWish,
): Promise<readonly PlaceToClear[]> {
  const { exposures } = state.arrangement;
  const byName = await framesByName(meeting.folder, exposures);
  const shopOf = (client: ShopToTell) => shopPlace(client, idOf('meeting', state.about.id), gesture, byName);
  return everyPlace({
    meetingFolder: meeting.folder,
    stateFolder: meeting.stateFolder,
    otherDisks,
    meeting: state.about.id,
    idOf,
    exposures,
    shop: await shopPlaces(meeting.folder, shopOf, wish),
    now: () => new Date(),
    ...(wish.gone === undefined ? {} : { gone: wish.gone }),
  });
}

/** Where orders were ever fetched, a service was named or has its data here, there is one to be told. */
async function shopPlaces(
  meetingFolder: string,
  placeOf: (client: ShopToTell) => PlaceToClear,
  wish: AskWish,
): Promise<readonly PlaceToClear[]> {
  const isNamed = wish.data !== undefined || wish.from !== undefined;
  const isKnown = existsSync(join(dataFolderOf(wish), 'admin.key')) || existsSync(fetchedOrdersPath(meetingFolder));
  if (!isNamed && !isKnown) return [];
  try {
    return [placeOf(await clientOf(wish))];
  } catch (problem) {
    return [unreachedShop((problem as Error).message)];
  }
}

function toTakeDown(wish: TakeDownWish, state: DayState, idOf: PublicIdOf, people: PeopleKnown): ToTakeDown {
  const said = [wish.rider, wish.person, wish.picture?.[0]].filter((one) => one !== undefined);
  if (said.length !== 1)
    throw new CliError(
      'Expected one of --rider, --person and --picture, to say what is taken down. Say for instance --rider N-ka.',
    );
  if (wish.rider !== undefined) return { kind: 'rider', rider: riderCalled(wish.rider, state, idOf).key };
  if (wish.person !== undefined) return { kind: 'person', person: personCalled(wish.person, people) };
  return { kind: 'frames', frames: wish.picture!.map((name) => frameCalled(name, state, idOf).frameId) };
}

export function riderCalled(text: string, { arrangement }: DayState, idOf: PublicIdOf): Rider {
  const isIt = ({ code, id, aliases }: Rider): boolean =>
    code === text || [...(id === null ? [] : [id]), ...aliases].some((one) => idOf('rider', one) === text);
  const found = arrangement.riders.find(isIt);
  if (found) return found;
  throw new CliError(
    `Expected a rider’s code, as N-ka, or the 32 letters at the end of their address, but ${onOneLine(text)} is none here. tyrewall show lists them.`,
  );
}

export type PeopleKnown = Pick<WholeDay['meeting']['people'], 'all' | 'isErased'>;

/** By id, or by a name that only one has. */
export function personCalled(text: string, people: PeopleKnown): PersonId {
  const all = people.all();
  const found = all.filter(({ id, name }) => id === text || name?.toLowerCase() === text.trim().toLowerCase());
  if (found.length === 1) return found[0]!.id;
  if (people.isErased(text as PersonId)) return text as PersonId;
  const why = found.length === 0 ? 'is nobody here' : `is ${found.length} people`;
  throw new CliError(
    `Expected the name or id of one person of this meeting but ${onOneLine(text)} ${why}. Their files lie in people/.`,
  );
}

/** By public id, name as a final, or the camera's file name where only one frame has it. */
function frameCalled(text: string, { arrangement }: DayState, idOf: PublicIdOf): Exposure {
  const names = namesOf(arrangement.exposures);
  const plain = basename(text)
    .replace(/\.[a-z0-9]+$/i, '')
    .replace(/-\d+x\d+$/, '')
    .toLowerCase();
  const isIt = ({ frameId, path }: Exposure): boolean =>
    idOf('frame', frameId) === plain ||
    names.get(frameId) === plain ||
    basename(path)
      .replace(/\.[a-z0-9]+$/i, '')
      .toLowerCase() === plain;
  const found = arrangement.exposures.filter(isIt);
  if (found.length === 1) return found[0]!;
  const why =
    found.length === 0
      ? 'is none here'
      : `are ${found.length}; say the name of its final, as ${names.get(found[0]!.frameId)}`;
  throw new CliError(
    `Expected a picture by its address, its final or the camera’s file name, but ${onOneLine(text)} ${why}.`,
  );
}

export interface HoldWish extends MeetingWish {
  readonly release?: boolean;
}

/** Without a picture: which are held, and which may show a fall. */
export async function holdCommand(
  folder: string,
  pictures: readonly string[],
  { release = false, ...wish }: HoldWish,
  say: Say = console.log,
): Promise<void> {
  const decisions = await looking(folder, wish, ({ state, idOf }) => {
    const frames = pictures.map((name) => frameCalled(name, state, idOf));
    if (frames.length === 0) for (const line of heldLines(state)) say(line);
    return frames.map(({ mainFile }): Decision => ({ kind: release ? 'released' : 'held', file: mainFile }));
  });
  if (decisions.length === 0) return;
  await sayDecisions(folder, wish, decisions);
  const which = counted(decisions.length, 'frame');
  say(
    release
      ? `${which} released: shown again from the next gallery on.`
      : `${which} held back: in no gallery, proof or final made from now on. What is up already leaves when the gallery is made and put up again; an order service that runs here stops selling it then, another with tyrewall orders offer.`,
  );
}

function heldLines(state: DayState): readonly string[] {
  const names = namesOf(state.arrangement.exposures);
  const { held, asked } = heldFrames(state);
  return [
    held.size === 0 ? 'No frame is held back.' : `Held back until you release them: ${counted(held.size, 'frame')}.`,
    ...[...held].map((frame) => `  ${names.get(frame)}`),
    ...(asked.length === 0 ? [] : ['Look at these before they are shown; a fall may look so, a daring line too:']),
    ...asked.map(({ frame, why }) => `  ${names.get(frame)}: ${why.join(' ')}`),
  ];
}

export interface MinorWish extends MeetingWish {
  readonly rider?: string;
  readonly person?: string;
  readonly consent?: boolean;
  readonly ofAge?: boolean;
}

export async function minorCommand(folder: string, wish: MinorWish, say: Say = console.log): Promise<void> {
  const meetingWish: MeetingWish = wish.stateRoot === undefined ? {} : { stateRoot: wish.stateRoot };
  if ((wish.rider === undefined) === (wish.person === undefined))
    throw new CliError('Expected --rider or --person, to say who is a minor. Say for instance --rider N-ka.');
  if (wish.consent && wish.ofAge) throw new CliError('Expected --consent or --of-age but got both. Say one of them.');
  const is = wish.ofAge ? 'of-age' : wish.consent ? 'with-consent' : 'without-consent';
  const decisions = await looking(folder, meetingWish, ({ meeting, state, idOf }): readonly Decision[] => {
    if (wish.person !== undefined) return [{ kind: 'minor', person: personCalled(wish.person, meeting.people), is }];
    const rider = riderCalled(wish.rider!, state, idOf);
    return sayMinor(rider.key, is, { ...state, mint: () => uuidv7() as RiderId });
  });
  await sayDecisions(folder, meetingWish, decisions);
  say(
    is === 'of-age'
      ? 'Said: of age. Pictures are shown, and the name where the organiser allows it.'
      : is === 'with-consent'
        ? 'Said: a minor, and a parent agreed to pictures. They are shown; no name stands beside them and no search finds it. Keep the parent’s paper.'
        : 'Said: a minor. No picture is shown until a parent agrees (--consent), and the name is told to nobody. What is up leaves when the gallery is made and put up again; an order service that runs here stops selling it then, another with tyrewall orders offer.',
  );
}
