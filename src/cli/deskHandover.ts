/** Putting up, takedowns and giving out as the desk asks for them: the same work as from a terminal. */
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { isWhole } from '../core/handover/law/index.js';
import { SLOW_LINE } from '../core/handover/putUp/index.js';
import type { GestureId } from '../core/ids.js';
import { meetingSecret, publicIdsOf, secretSoFar } from '../host/gallery/index.js';
import { exportPerson, proofsOf } from '../host/law/index.js';
import { stateRootOf } from '../host/meeting/stateFolder.js';
import { readFetchedOrders } from '../host/orders/fetchedOrders.js';
import { knownPlaces, openPlace, planFor, putUp, putUpStandings, withdrawnIds } from '../host/putUp/index.js';
import type { HandoverWork, PlaceStanding } from '../server/index.js';
import { carryOut, type Here } from './lawCommands.js';
import type { WholeDay } from './openWholeDay.js';
import type { AskWish } from './ordersCommand.js';
import { exportLines } from './personCommands.js';
import { doneLines, planLines, withPlace } from './putUpCommand.js';

export function deskHandover(
  whole: Pick<WholeDay, 'meeting' | 'day' | 'otherDisks'>,
  wish: AskWish = {},
): HandoverWork {
  const { meeting, day, otherDisks } = whole;
  const edition = meeting.about.firstDay;
  const here = async (): Promise<Here> => ({
    meeting,
    otherDisks,
    state: await day.settled(),
    idOf: publicIdsOf(await meetingSecret(meeting.folder)),
  });
  /** What is pending is told in lines, and here it is no failure. */
  const carried = async (gesture: GestureId, asked: Parameters<typeof carryOut>[2]): Promise<readonly string[]> => {
    const lines: string[] = [];
    await carryOut(await here(), gesture, asked, wish, (line) => lines.push(line)).catch((trouble: Error) =>
      lines.push(trouble.message),
    );
    return lines;
  };
  const open = async () => (await proofsOf(meeting.folder)).filter((proof) => !isWhole(proof));
  return {
    places: () => placesOf(whole),
    dryRun: (place) =>
      withPlace(whole, place, {}, async (options) => planLines(await planFor(edition, options), SLOW_LINE)),
    putUp: (place) => (report, signal) => {
      const onProgress = ({ done, total, secondsLeft, waiting }: Parameters<typeof report>[0]) =>
        report({ done, total, secondsLeft: secondsLeft ?? null, waiting: waiting ?? null });
      return withPlace(whole, place, { onProgress, signal }, async (options) =>
        doneLines(await putUp(edition, options), edition, options.place.said).join('\n'),
      );
    },
    reaches: async () => [
      'galleries, proofs and finals on this machine and its disks',
      ...(await placesOf(whole)).filter(({ since }) => since !== null).map(({ said }) => said),
      'the order service’s offers, links and zips, where there is one',
    ],
    carryOut: carried,
    pending: async () =>
      (await open()).flatMap(({ places }) =>
        places.flatMap((one) => (one.standing === 'pending' ? [`${one.place}: ${one.sentence}`] : [])),
      ),
    again: async () => {
      const lines: string[] = [];
      for (const { gesture, asked } of await open()) lines.push(...(await carried(gesture, asked)));
      return lines.length === 0 ? ['No takedown is pending anywhere.'] : lines;
    },
    giveOut: async (rider) => {
      const { state, idOf } = await here();
      const code = state.arrangement.riders.find(({ key }) => key === rider)?.code ?? 'rider';
      const { facts } = await readFetchedOrders(meeting.folder);
      return exportLines(
        await exportPerson({
          of: { kind: 'rider', rider },
          to: freeFolder(join(meeting.folder, 'made', 'given-out', code)),
          state,
          people: meeting.people,
          orders: facts,
          originalOf: (frame) => day.original(frame),
          idOf,
        }),
      );
    },
  };
}

/** One that was given out before is left as it is. */
function freeFolder(wanted: string): string {
  for (let n = 1; ; n++) {
    const folder = n === 1 ? wanted : `${wanted}-${n}`;
    if (!existsSync(folder)) return folder;
  }
}

async function placesOf({ meeting, day }: Pick<WholeDay, 'meeting' | 'day'>): Promise<readonly PlaceStanding[]> {
  const secret = await secretSoFar(meeting.folder);
  const withdrawn = secret === null ? new Set<string>() : withdrawnIds(day.state(), publicIdsOf(secret));
  const standings = await putUpStandings(meeting.folder, withdrawn, new Date());
  const known = await knownPlaces(stateRootOf(meeting.stateFolder));
  const names = [...new Set([...known.keys(), ...standings.map(({ place }) => place)])].sort();
  return Promise.all(
    names.map(async (name) => {
      const address = known.get(name);
      const standing = standings.find(({ place }) => place === name);
      return {
        name,
        said: address === undefined ? 'not known on this machine any more' : await saidOf(address),
        since: standing?.at ?? null,
        files: standing?.files ?? 0,
        pending: standing?.pending?.paths.length ?? 0,
        failed: standing?.failed?.sentence ?? null,
      };
    }),
  );
}

async function saidOf(address: Parameters<typeof openPlace>[0]): Promise<string> {
  const place = await openPlace(address);
  await place.close();
  return address.folder === '' || address.kind === 'folder' ? place.said : `${place.said}, folder ${address.folder}`;
}
