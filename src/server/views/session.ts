/** One session: every pass in order of time, and what else was on the card between its edges. */
import type { Exposure, Pass, Session } from '../../core/arrange/types.js';
import { unitIntervalOf } from '../../core/units.js';
import type { DayState } from '../../host/day/types.js';
import { DeskError } from '../DeskError.js';
import type { SessionPassView, SessionView, Spoken } from '../types.js';
import { holdOf, spokenHold } from './holds.js';
import { type Known, knownOf } from './known.js';
import { passView } from './passes.js';
import { liveryOf, numberOf } from './riderLine.js';
import { printed, spokenBy } from './spoken.js';
import { clockOf } from './wallTime.js';

function sessionPasses(known: Known, session: Session): readonly SessionPassView[] {
  const passes = known.state.arrangement.passes
    .filter((pass) => pass.session === session.index)
    .sort((a, b) => a.start - b.start);
  return passes.map((pass) => {
    const rider = known.unplaced.has(pass.index) ? undefined : known.riderByKey.get(pass.rider);
    const shown = rider && {
      key: rider.key,
      code: rider.code,
      livery: liveryOf(rider),
      number: numberOf(known, rider),
    };
    return { ...passView(known, pass, null), rider: shown ?? null, guessed: guessedOf(known, pass) };
  });
}

function guessedOf(known: Known, pass: Pass): SessionPassView['guessed'] {
  const rider = known.unplaced.has(pass.index) ? known.riderByKey.get(pass.rider) : undefined;
  return rider && pass.confidence !== undefined ? { code: rider.code, chance: unitIntervalOf(pass.confidence) } : null;
}

/** A head count is a person's word; what is worked out from the pictures is a guess, and its range holds in 95 of 100. */
function unseenOf(known: Known, session: Session): SessionView['unseen'] {
  const own = (known.state.coverage.unseen ?? []).filter((one) => one.session === session.index);
  return own.map(({ group, fromRiders, toRiders, reason, source, contradicts }): Spoken => {
    if (contradicts !== undefined) return printed(contradicts);
    const range = fromRiders === toRiders ? String(fromRiders) : `${fromRiders} to ${toRiders}`;
    const name = known.groupByKey.get(group ?? '')?.name;
    const text = `${range === '0' ? 'nobody' : range}${name ? ` of ${name}` : ''} not seen${range === '0' ? '' : ' yet'}`;
    return source === 'head-count' && fromRiders === toRiders
      ? { voice: 'initialled', text, initials: known.initials }
      : { voice: 'pencilled', text, confidence: unitIntervalOf(0.95), reasons: [reason] };
  });
}

/** Why a frame shows no rider, in words, at most three different ones. */
const reasonsOf = (known: Known, frames: readonly Exposure[]): readonly string[] => {
  const reasons = frames.flatMap((exposure) => {
    const pixels = known.state.pixels.get(exposure.frameId);
    return pixels?.kind === 'unmeasurable' ? [`${exposure.path}: ${pixels.reason}`] : [];
  });
  return [...new Set(reasons)].slice(0, 3);
};

function othersOf(known: Known, session: Session): SessionView['others'] {
  const inPass = new Set(
    known.state.arrangement.passes
      .filter((pass) => pass.session === session.index)
      .flatMap((pass) => pass.bikes.map((bike) => bike.frameId)),
  );
  const rest = session.frames.flatMap((frame) => (inPass.has(frame) ? [] : (known.exposureById.get(frame) ?? [])));
  const roles = ['unmeasured', 'unmeasurable', 'divider', 'scenery', 'bike'] as const;
  return roles.flatMap((role) => {
    const frames = rest.filter((exposure) => exposure.role === role);
    return frames.length === 0 ? [] : [{ role, count: frames.length, why: reasonsOf(known, frames) }];
  });
}

export function sessionView(state: DayState, index: number): SessionView {
  const known = knownOf(state);
  const session = state.arrangement.sessions[index];
  if (!session)
    throw new DeskError(
      404,
      `Expected one of ${state.arrangement.sessions.length} sessions but was asked for ${Number.isSafeInteger(index) ? `number ${index + 1}` : 'something that is no number'}. Go back to the day.`,
    );
  const group = known.groupByKey.get(session.group ?? '') ?? null;
  const passes = sessionPasses(known, session);
  const hold = holdOf(known, session);
  return {
    asOf: state.asOf,
    index,
    name: session.name,
    group,
    groupVoice: spokenBy(session.groupSource, group?.name ?? 'group not known', known.initials),
    startVoice: spokenBy(session.startSource, clockOf(session.start), known.initials),
    held: hold === null ? null : spokenHold(hold),
    start: session.start,
    end: session.end,
    frames: session.frames.length,
    riders: new Set(passes.flatMap((pass) => pass.rider?.key ?? [])).size,
    passes,
    others: othersOf(known, session),
    unseen: unseenOf(known, session),
    previous: index > 0 ? index - 1 : null,
    next: index + 1 < state.arrangement.sessions.length ? index + 1 : null,
  };
}
