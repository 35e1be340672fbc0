/** One rider's set: what is kept, why, what came second, and all it was chosen from. */
import type { Pass, Rider } from '../../core/arrange/types.js';
import type { Lack, Proposal, ProposedKeeper, Second } from '../../core/choose/types.js';
import { bikeKeyOf } from '../../core/cover/index.js';
import { millisecondsOf } from '../../core/units.js';
import type { DayState } from '../../host/day/types.js';
import { DeskError } from '../DeskError.js';
import type { PassFrameView } from '../types.js';
import { bikeKey, type Known, knownOf, metadataOf, passesOf, pointOf } from '../views/known.js';
import { judgementsOf, passView } from '../views/passes.js';
import { findRider } from '../views/rider.js';
import { riderLineOf } from '../views/riderLine.js';
import { clockOf } from '../views/wallTime.js';
import { choosingOf } from './choosingOf.js';
import type { RiderToChooseView, SecondView, ToChooseFrameView, ToChoosePassView } from './types.js';

export function riderToChooseView(state: DayState, key: string): RiderToChooseView {
  const known = knownOf(state);
  const rider = findRider(known, key);
  const proposal = choosingOf(known).proposalFor(rider.key);
  if (proposal === null)
    throw new DeskError(
      404,
      'No set is chosen for this rider yet: the pictures are being arranged anew. Reload the page.',
    );
  return {
    asOf: state.asOf,
    rider: riderLineOf(known, rider),
    group: known.groupByKey.get(rider.group ?? '') ?? null,
    isBelowLeast: proposal.isBelowLeast,
    lacks: proposal.lacks.flatMap((lack) => lackWords(lack) ?? []),
    passes: passesInOrder(known, rider).map((pass) => passToChoose(known, pass, proposal)),
    point: pointOf(known, rider.face),
    initials: known.initials,
  };
}

/** Spots have rows of their own in the set, which say it. */
function lackWords(lack: Lack): string | null {
  switch (lack.kind) {
    case 'spot':
      return null;
    case 'side':
      return `Nothing shows its ${lack.side} side.`;
    case 'shutter':
      return lack.is === 'slow' ? 'None of them is slow.' : 'All of them are slow.';
    case 'number':
      return `In none can ${lack.number} be read.`;
  }
}

const passesInOrder = (known: Known, rider: Rider): readonly Pass[] =>
  [...passesOf(known, rider)].sort((a, b) => a.start - b.start);

function passToChoose(known: Known, pass: Pass, proposal: Proposal): ToChoosePassView {
  const { frames, spot, start, index } = passView(known, pass, millisecondsOf(0));
  const keepers = new Map(
    proposal.keepers.map((keeper) => [bikeKey(keeper.bike.frameId, keeper.bike.subject), keeper]),
  );
  const session = known.state.arrangement.sessions[pass.session];
  return {
    index,
    start,
    session: session?.name ?? 'outside every session',
    sessionIndex: session?.index ?? null,
    spot,
    frames: frames.map((frame) => frameToChoose(known, frame, keepers.get(bikeKey(frame.frameId, frame.subject)))),
    bestFirst: bestFirst(frames, index, proposal),
  };
}

const frameToChoose = (known: Known, frame: PassFrameView, keeper: ProposedKeeper | undefined): ToChooseFrameView => ({
  ...frame,
  kept: keeper?.source ?? (frame.kept === 'left-out' ? 'left-out' : null),
  keptWhy: keeper?.reasons ?? [],
  shot: shotOf(known, frame),
  blemish: blemishOf(known, frame),
  second: keeper?.second ? secondOf(known, keeper.second) : null,
});

function blemishOf(known: Known, bike: PassFrameView): ToChooseFrameView['blemish'] {
  const kind = judgementsOf(known).get(bikeKeyOf(bike))?.kind;
  return kind === 'cut' || kind === 'soft' ? kind : null;
}

function shotOf(known: Known, { frameId, shutter }: PassFrameView): string {
  const metadata = metadataOf(known, frameId);
  const { focalLengthMm } = metadata?.lens ?? {};
  const { fNumber } = metadata?.exposure ?? {};
  return [
    shutter,
    focalLengthMm === undefined ? null : `${Math.round(focalLengthMm)} mm`,
    fNumber === undefined ? null : `f/${fNumber}`,
  ]
    .filter((part) => part !== null)
    .join(' · ');
}

/** Keepers of the pass first, as they were taken, then the others of it. */
function bestFirst(frames: readonly PassFrameView[], pass: number, proposal: Proposal): readonly number[] {
  const kept = proposal.keepers.filter((keeper) => keeper.pass === pass);
  const others = kept[0]?.ofPass ?? proposal.toAdd.filter((other) => other.pass === pass);
  const placeOf = ({ bike }: { readonly bike: ProposedKeeper['bike'] }) =>
    frames.findIndex(({ frameId, subject }) => frameId === bike.frameId && subject === bike.subject);
  const told = [...kept, ...others].map(placeOf).filter((at) => at >= 0);
  return [...new Set([...told, ...frames.keys()])];
}

/**
 * Of a hundred that the keeper gives the set as it stands now, where it is less: what it gave when it was taken was more. A person
 * may have kept the lesser one.
 */
function worthWords({ worth, loss }: Second): string {
  const share = worth / (worth + loss);
  if (!Number.isFinite(share) || share > 0.99) return '';
  return `, worth ${Math.round(100 * Math.max(0, share))} to the set where this is worth 100`;
}

function secondOf(known: Known, second: Second): SecondView {
  const exposure = known.exposureById.get(second.bike.frameId);
  const clock = exposure?.wall == null ? '' : ` at ${clockOf(exposure.wall)}`;
  return {
    ...second.bike,
    words: `Second was ${exposure?.path.split('/').at(-1) ?? 'another frame'}${clock}${worthWords(second)}: ${second.behind}.`,
  };
}
