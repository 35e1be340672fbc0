/** Keepers as lines of a terminal. */
import type { Arrangement, Rider } from '../core/arrange/types.js';
import type { Choosing, Lack, ProposedKeeper } from '../core/choose/types.js';
import type { DayState } from '../host/day/types.js';
import { CliError } from './cliError.js';
import { clockOf, counted, onOneLine } from './words.js';

export function chosenLines({ riders }: Arrangement, choosing: Choosing): readonly string[] {
  const { keepers } = choosing;
  const { left, gone, belowLeast } = choosing.left();
  const riderOf = new Map(riders.map((rider) => [rider.key, rider]));
  const all = [...keepers.byRider.values()].flat();
  const kept = all.filter(({ source }) => source === 'kept-by-person').length;
  return [
    `${counted(all.length, 'keeper')} of ${counted(riders.length, 'rider')}, ${kept} kept by a person, ${keepers.leftOut.length} left out`,
    quotaWords(choosing),
    `${counted(gone.length, 'set')} gone through, ${left.length} left, ${belowLeast.length} below the least`,
    ...left.flatMap((key) => {
      const rider = riderOf.get(key);
      return rider === undefined ? [] : [riderLine(rider, choosing, belowLeast.includes(key))];
    }),
  ];
}

function quotaWords({ keepers: { rules } }: Choosing): string {
  const inAll = rules.mostInAll === null ? '' : `, ${rules.mostInAll} in all`;
  return `At most ${rules.mostPerRider} a rider and ${rules.mostPerSpot} a spot${inAll}; ${rules.leastPerRider} are the least`;
}

function riderLine(rider: Rider, choosing: Choosing, isBelow: boolean): string {
  const proposal = choosing.proposalFor(rider.key);
  const toAdd = isBelow && proposal ? `, ${proposal.toAdd.length} more could be added` : '';
  const count = counted(proposal?.keepers.length ?? 0, 'keeper');
  return onOneLine(`  ${isBelow ? 'thin  ' : '      '}${rider.code.padEnd(7)} ${count}${toAdd}  ${rider.livery}`);
}

/** One set: each keeper with why, and what was second. */
export function setLines(
  { arrangement }: Pick<DayState, 'arrangement'>,
  choosing: Choosing,
  code: string,
): readonly string[] {
  const rider = arrangement.riders.find((one) => one.code.toLowerCase() === code.toLowerCase());
  const proposal = rider && choosing.proposalFor(rider.key);
  if (!proposal)
    throw new CliError(
      `Expected a rider's code after --rider but got ${onOneLine(code)}. tyrewall choose without it lists them.`,
    );
  const nameOf = naming(arrangement);
  return [
    ...proposal.keepers.flatMap((keeper) => keeperLines(keeper, nameOf)),
    ...(proposal.toAdd.length > 0
      ? [`  to add: ${proposal.toAdd.map(({ bike }) => nameOf(bike.frameId)).join(', ')}`]
      : []),
    ...(proposal.lacks.length > 0 ? [`  not shown: ${proposal.lacks.map(lackWords).join(', ')}`] : []),
  ].map(onOneLine);
}

function keeperLines(
  { bike, reasons, source, second }: ProposedKeeper,
  nameOf: (frame: string) => string,
): readonly string[] {
  return [
    `  ${source === 'kept-by-person' ? 'kept    ' : 'proposed'}  ${nameOf(bike.frameId)}: ${reasons.join('; ')}`,
    ...(second === null ? [] : [`            second: ${nameOf(second.bike.frameId)}: ${second.behind}`]),
  ];
}

function naming({ exposures }: Arrangement): (frame: string) => string {
  const names = new Map(
    exposures.map(({ frameId, path, wall }) => {
      const name = path.split('/').at(-1) ?? path;
      return [frameId as string, wall === null ? name : `${clockOf(wall)} ${name}`];
    }),
  );
  return (frame) => names.get(frame) ?? frame;
}

function lackWords(lack: Lack): string {
  switch (lack.kind) {
    case 'spot':
      return lack.frames === 0 ? `${lack.spot}, no frame` : `${lack.spot}, ${counted(lack.frames, 'frame')}, none good`;
    case 'side':
      return `its ${lack.side} side`;
    case 'shutter':
      return `a ${lack.is} frame`;
    case 'number':
      return `number ${lack.number}`;
  }
}
