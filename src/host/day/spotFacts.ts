/** What choosing is told of spots beforehand: the side of the bike they show, and the shutter that is sure there. */
import type { SpotsFacts } from '../../core/choose/types.js';
import type { FoldedLog } from '../../core/log/types.js';
import { markOf, SHUTTERS } from '../../core/numeric/exposure.js';
import { layTrack } from '../../core/plan/circuit/track.js';
import type { Circuit, SpotView } from '../../core/plan/circuit/types.js';
import { settingsFor, USUAL_SENSOR, viewOf } from '../../core/plan/index.js';
import type { Timetable } from '../../core/plan/types.js';
import { speedSources } from '../plan/sheet/circuitAnswers.js';
import { lastSaid, speedsOf } from '../plan/sheet/saidOfPlan.js';

/** Holds what it answered last: the drawing seldom changes, and every decision asks. */
export function rememberingSpotFacts(): typeof spotFactsOf {
  let last: { readonly circuit: Circuit | null; readonly rest: string; readonly facts: SpotsFacts } | null = null;
  return (log, timetable) => {
    const circuit = circuitOf(log);
    const rest = JSON.stringify(speedsHangOn(log, timetable));
    if (last?.circuit !== circuit || last.rest !== rest) last = { circuit, rest, facts: spotFactsOf(log, timetable) };
    return last.facts;
  };
}

/** Of a meeting without a drawing nothing is known. */
export function spotFactsOf(log: FoldedLog, timetable: Timetable | null): SpotsFacts {
  const circuit = circuitOf(log);
  if (circuit === null) return new Map();
  const track = layTrack(circuit);
  const wish = speedsHangOn(log, timetable);
  const lapRecordMs = circuit.lapRecordMs ?? timetable?.fastestLapMs;
  const sureS = (view: SpotView, group: string): number => {
    const speeds = { ...wish, ...(lapRecordMs === undefined ? {} : { lapRecordMs }) };
    const speed = speedSources(view, group, speeds, track.lengthM);
    // The ladder hangs on view and pace, not on the light.
    const { ladder } = settingsFor({ view, group, speed, light: { kind: 'night' }, sensor: USUAL_SENSOR });
    return markOf(SHUTTERS, ladder.start).exact;
  };
  return new Map(
    circuit.spots.flatMap((spot) => {
      const view = viewOf(circuit, spot, track);
      if (view === null) return [];
      const sureShutterS = new Map(wish.groups.map(({ key }) => [key, sureS(view, key)]));
      return [[spot.id, { side: view.sideSeen, sureShutterS }] as const];
    }),
  );
}

const circuitOf = (log: FoldedLog): Circuit | null => lastSaid(log, 'circuit')?.circuit ?? null;

const speedsHangOn = (log: FoldedLog, timetable: Timetable | null) => ({
  groups: timetable?.groups ?? [],
  speeds: speedsOf(log),
  fastestLapMs: timetable?.fastestLapMs,
});
