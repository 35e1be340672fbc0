/** The day's passes with what the rider model asks of them. */
import type { Bikes } from '../bikes.js';
import type { RawPass } from '../passes.js';
import type { Session } from '../types.js';
import { cannotBeOne, lapRule } from './cannotBeOne.js';

/** A pause this long between two sessions is lunch or a night: groups are made up anew. */
const HALF_DAY_PAUSE_MS = 35 * 60_000;

export interface Field {
  readonly passes: readonly RawPass[];
  /** Groups by name, in order; −1 in `groupOf` where the group is not known. */
  readonly groups: readonly string[];
  readonly sessionCount: number;
  /** Per session. */
  readonly groupOf: Int32Array;
  readonly halfOf: Int32Array;
  readonly halves: number;
  readonly fastestLapMs: number | null;
  /** So much more has to speak for two being one, in nats, where nobody knows who rides with whom. */
  readonly careNats: number;
  cannotBeOne(a: number, b: number): boolean;
}

export function fieldOf(
  passes: readonly RawPass[],
  bikes: Bikes,
  sessions: readonly Session[],
  fastestLapMs: number | null,
): Field {
  const groups = [...new Set(sessions.map(({ group }) => group).filter((group) => group !== null))].sort();
  const halfOf = new Int32Array(sessions.length);
  sessions.forEach(({ start }, s) => {
    const before = sessions[s - 1];
    if (before === undefined) return;
    halfOf[s] = halfOf[s - 1]! + (start - before.end >= HALF_DAY_PAUSE_MS ? 1 : 0);
  });
  const rule = lapRule(fastestLapMs);
  return {
    passes,
    groups,
    sessionCount: sessions.length,
    groupOf: Int32Array.from(sessions, ({ group }) => (group === null ? -1 : groups.indexOf(group))),
    halfOf,
    halves: sessions.length === 0 ? 1 : halfOf.at(-1)! + 1,
    fastestLapMs,
    careNats: 0,
    cannotBeOne: onceEachPair(passes, (a, b) => cannotBeOne(passes[a]!, passes[b]!, bikes, rule)),
  };
}

const NOT_ASKED = 0;
const CAN = 1;
const CANNOT = 2;

/** Of each pair of a session the answer, asked many times while riders are merged. Passes of two sessions are never apart. */
function onceEachPair(passes: readonly RawPass[], ask: (a: number, b: number) => boolean): Field['cannotBeOne'] {
  const place = new Int32Array(passes.length);
  const sizes: number[] = [];
  const sessionOf = Int32Array.from(passes, ({ session }) => session + 1);
  sessionOf.forEach((session, p) => {
    place[p] = sizes[session] ?? 0;
    sizes[session] = place[p]! + 1;
  });
  const answers: Uint8Array[] = [];
  return (a, b) => {
    const session = sessionOf[a]!;
    if (session !== sessionOf[b]!) return false;
    answers[session] ??= new Uint8Array(sizes[session]! ** 2);
    const own = answers[session];
    const at = Math.max(place[a]!, place[b]!) * sizes[session]! + Math.min(place[a]!, place[b]!);
    if (own[at] === NOT_ASKED) own[at] = ask(a, b) ? CANNOT : CAN;
    return own[at] === CANNOT;
  };
}
