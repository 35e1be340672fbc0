/** Where one stood while a group ran: a person's word (`stood-at`), or frames that show the spot. Rules CV7–CV10. */
import type { Arrangement, Rider, Session } from '../arrange/types.js';
import type { SpotId } from '../ids.js';
import type { FoldedLog } from '../log/types.js';
import type { Stand } from '../plan/types.js';
import type { WallMs } from '../units.js';

/** Shorter than this a stand and a session do not meet: one was only walking past. */
const LEAST_OVERLAP_MS = 60_000;

/** The stands said in the log and still in force, in order of time. */
export function standsOf(log: FoldedLog): readonly Stand[] {
  return log.inForce
    .map(({ decision }) => decision)
    .filter((decision) => decision.kind === 'stood-at')
    .map(({ spot, from, to, body }): Stand => ({ spot, from, to, ...(body === undefined ? {} : { body }) }))
    .sort((a, b) => a.from - b.from);
}

/** A spot stood at in a session. `isOver` once the time of standing there has passed. */
export interface StoodAt {
  readonly spot: SpotId;
  readonly session: number;
  readonly isOver: boolean;
  readonly isSaid: boolean;
}

const keyOf = (spot: SpotId, session: number): string => `${session}|${spot}`;

/** What was stood at: said by a person, or shown by a frame of a bike. `now: null` means the day is over. */
export function stoodAt(arrangement: Arrangement, stands: readonly Stand[], now: WallMs | null): readonly StoodAt[] {
  const found = new Map<string, StoodAt>();
  for (const exposure of arrangement.exposures) {
    if (exposure.spot === null || exposure.session === null || exposure.role !== 'bike') continue;
    const { spot, session } = exposure;
    const ends = arrangement.sessions[session]?.end;
    const isOver = now === null || ends === undefined || ends <= now;
    found.set(keyOf(spot, session), { spot, session, isOver, isSaid: false });
  }
  for (const session of arrangement.sessions) {
    for (const stand of stands) addSaid(found, session, stand, now);
  }
  return [...found.values()];
}

function addSaid(found: Map<string, StoodAt>, session: Session, stand: Stand, now: WallMs | null): void {
  const until = Math.min(session.end, stand.to);
  if (until - Math.max(session.start, stand.from) < LEAST_OVERLAP_MS) return;
  const key = keyOf(stand.spot, session.index);
  const isOver = (now === null || until <= now) && (found.get(key)?.isSaid ? found.get(key)!.isOver : true);
  found.set(key, { spot: stand.spot, session: session.index, isOver, isSaid: true });
}

/**
 * The sessions a rider's group ran in: those the rider is seen in, and those of the group the rider was seen
 * with nearest in time. So a rider who changes group over lunch misses nothing of the old group afterwards.
 */
export function sessionsOf(rider: Rider, arrangement: Arrangement): ReadonlySet<number> {
  const seenIn = new Set(rider.passes.map((index) => arrangement.passes[index]!.session));
  const seen = [...seenIn].map((index) => arrangement.sessions[index]).filter((session) => session !== undefined);
  const own = arrangement.sessions.filter(
    (session) =>
      seenIn.has(session.index) || (session.group !== null && nearest(seen, session)?.group === session.group),
  );
  return new Set(own.map((session) => session.index));
}

/** Of sessions with a known group; the earlier one of two equally near. */
function nearest(seen: readonly Session[], to: Session): Session | undefined {
  return seen
    .filter((session) => session.group !== null)
    .sort((a, b) => Math.abs(a.start - to.start) - Math.abs(b.start - to.start) || a.start - b.start)[0];
}
