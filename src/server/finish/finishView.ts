/** The finish of a meeting as the sheet shows it: what stands, where every keeper lies, what each spot gets. */
import { apartKeepers, FIRST_FINISH, type PlannedLook, type PlannedLooks } from '../../core/finish/index.js';
import type { FrameId } from '../../core/ids.js';
import type { FinishedAlike } from '../../core/log/finishSaid.js';
import type { DayState } from '../../host/day/types.js';
import { planLooksOf } from '../../host/finish/looks/index.js';
import { type Known, knownOf } from '../views/known.js';
import type { ExampleView, FinishSpotView, FinishView } from './types.js';

interface LooksNow extends PlannedLooks {
  /** Of riders, in the day's order. */
  readonly keepers: readonly PlannedLook[];
  /** Of frames kept apart that are finished, in the day's order. */
  readonly apart: readonly PlannedLook[];
}

let last: { readonly state: DayState; readonly looks: LooksNow } | null = null;

/** The look of every frame that is finished, by what was said, once for a state of the day. */
export function looksNow(state: DayState): LooksNow {
  if (last?.state !== state) last = { state, looks: looksOf(state) };
  return last.looks;
}

function looksOf(state: DayState): LooksNow {
  const kept = new Set([...state.keepers.byRider.values()].flat().map(({ bike }) => bike.frameId));
  const apart = new Set(apartKeepers(state.arrangement, state.log).map(({ frameId }) => frameId));
  const planned = planLooksOf(state, new Set([...kept, ...apart]));
  const all = [...planned.looks.values()];
  return {
    ...planned,
    keepers: all.filter(({ frame }) => kept.has(frame)),
    apart: all.filter(({ frame }) => apart.has(frame)),
  };
}

export function finishView(state: DayState): FinishView {
  const known = knownOf(state);
  const { finishes, keepers: planned, apart } = looksNow(state);
  const isSaid = isSaidOf(state, 'track');
  const from = (source: 'own' | 'neighbours') => planned.filter(({ balance }) => balance?.from === source).length;
  const balanced = planned.flatMap(({ balance }) => (balance && balance.from !== 'nothing' ? [balance.needs] : []));
  return {
    asOf: state.asOf,
    keepers: planned.length,
    finish: isSaid ? finishes.track : FIRST_FINISH,
    isSaid,
    initials: known.initials,
    ticks: balanced.map(({ stops, red, blue }) => ({ brighter: -stops, warmer: blue - red })),
    seen: {
      own: from('own'),
      neighbours: from('neighbours'),
      nothing: planned.length - from('own') - from('neighbours'),
    },
    levelled: planned.flatMap(({ frame }) => levelOf(state, frame)),
    spots: spotsOf(known, planned),
    apart: {
      frames: apart.length,
      said: isSaidOf(state, 'apart') ? finishes.apart : null,
      example: exampleOf(known, apart),
    },
  };
}

const isSaidOf = ({ log }: DayState, of: FinishedAlike): boolean =>
  log.inForce.some(({ decision }) => decision.kind === 'finish' && decision.of === of);

function levelOf({ pixels }: DayState, frame: FrameId): readonly number[] {
  const measured = pixels.get(frame);
  return measured?.kind === 'measured' && measured.level ? [measured.level.turnDeg] : [];
}

function spotsOf(known: Known, planned: readonly PlannedLook[]): readonly FinishSpotView[] {
  const bySpot = new Map<string, PlannedLook[]>();
  for (const look of planned) {
    const spot = known.exposureById.get(look.frame)?.spot ?? '';
    const own = bySpot.get(spot);
    if (own) own.push(look);
    else bySpot.set(spot, [look]);
  }
  return [...bySpot]
    .map(([id, own]): FinishSpotView => {
      const spot = known.spotById.get(id);
      const needs = own.flatMap(({ balance }) => (balance && balance.from !== 'nothing' ? [balance.needs] : []));
      return {
        number: spot?.number ?? null,
        name: spot?.name ?? 'no spot known',
        frames: own.length,
        stops: middleOf(needs.map(({ stops }) => stops)),
        warmth: middleOf(needs.map(({ red, blue }) => red - blue)),
        example: exampleOf(known, own)!,
      };
    })
    .sort((a, b) => (a.number ?? 99) - (b.number ?? 99));
}

/** The middle one. */
function exampleOf(known: Known, looks: readonly PlannedLook[]): ExampleView | null {
  const example = looks[looks.length >> 1]?.frame;
  return example === undefined ? null : { frameId: example, aspect: aspectOf(known, example) };
}

const USUAL_ASPECT = 1.5;
function aspectOf({ state, exposureById }: Known, frame: FrameId): number {
  const { widthPx, heightPx } = state.metadata.get(exposureById.get(frame)?.mainFile ?? '') ?? {};
  return widthPx && heightPx ? widthPx / heightPx : USUAL_ASPECT;
}

function middleOf(values: readonly number[]): number | null {
  return values.length === 0 ? null : values.toSorted((a, b) => a - b)[values.length >> 1]!;
}
