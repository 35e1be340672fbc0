/** Opens the desk over a day: the printed address, and the long work that can be started from it. */
import { randomBytes } from 'node:crypto';
import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { finishesPathOf, openKeptFinishes } from '../host/finish/looks/index.js';
import { stateRootOf } from '../host/meeting/stateFolder.js';
import { officePathOf, openOffice } from '../host/office/officeFile.js';
import { takingsElsewhere } from '../host/review/index.js';
import { createDesk, type DeskOptions, type ListeningDesk } from '../server/index.js';
import { CliError } from './cliError.js';
import { deskMark } from './deskMark.js';
import { makeMeetingFinals, makeMeetingGallery, makeMeetingProofs } from './handOver.js';
import { wholeNumber } from './numbers.js';
import type { WholeDay } from './openWholeDay.js';
import type { AskWish } from './ordersCommand.js';
import { onOneLine } from './words.js';

const tokenBytes = 24;

export async function listenDesk(
  whole: WholeDay,
  { ask = {}, ...wish }: Pick<DeskOptions, 'port' | 'orders' | 'handover'> & { readonly ask?: AskWish } = {},
): Promise<ListeningDesk> {
  const desk = createDesk(whole.day, {
    token: randomBytes(tokenBytes).toString('base64url'),
    webFolder: builtWebFolder(),
    people: whole.meeting.people,
    folder: whole.meeting.folder,
    inventedCircuit: async () => (await import('../../demo/circuit/ebbstone.js')).EBBSTONE,
    office: openOffice(officePathOf(stateRootOf(whole.meeting.stateFolder))),
    finishes: openKeptFinishes(finishesPathOf(stateRootOf(whole.meeting.stateFolder))),
    mark: deskMark(whole.meeting),
    otherTakings: () => takingsElsewhere(stateRootOf(whole.meeting.stateFolder), whole.meeting.about.id),
    actions: {
      makeProofs: async (report) => (await makeMeetingProofs(whole, report)).sentence,
      makeFinals: async (report, signal) => (await makeMeetingFinals(whole, { signal }, report)).sentence,
      makeGallery: async (report) => (await makeMeetingGallery(whole, report, ask)).sentence,
    },
    ...wish,
  });
  const listening = await desk.listen();
  await whole.meeting.announce?.(listening.url);
  return listening;
}

const MOST_PORT = 65_535;

/** Nought is any that is free. */
export function portSaid(text: string | undefined): { readonly port?: number } {
  if (text === undefined) return {};
  const port = wholeNumber(text, 0, MOST_PORT);
  if (port !== null) return { port };
  throw new CliError(
    `Expected a port from 0 to ${MOST_PORT} after --port but got ${onOneLine(text)}. Leave it out, and a free one is taken.`,
  );
}

/** Beside the built program, or in `dist/` of a clone. */
function builtWebFolder(): string {
  const here = dirname(fileURLToPath(import.meta.url));
  const places = [join(here, '../../web'), join(here, '../../dist/web')];
  const found = places.find((place) => existsSync(join(place, 'index.html')));
  if (found === undefined)
    throw new CliError(
      'Expected the built screens in dist/web but they are not there. Run npx vite build once, then open the desk again.',
    );
  return found;
}
