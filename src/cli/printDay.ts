/** The day in a terminal: sessions, riders, who is thin. Guesses are marked with a question mark, a person's word with an exclamation mark. */
import type { Apart, Exposure, Session, Source } from '../core/arrange/types.js';
import { outOf100 } from '../core/units.js';
import type { MeetingCards } from '../host/cards/index.js';
import { leftOutSentences } from '../host/day/index.js';
import type { DayState } from '../host/day/types.js';
import { countOfQuestions } from '../server/index.js';
import { clockOf, counted, dayOf, onOneLine } from './words.js';

const markOf = (source: Source): string =>
  source.kind === 'said' ? ' (said)' : source.kind === 'guessed' ? ` (guess, ${outOf100(source.confidence)} %)` : '';

export function dayLines(state: DayState, cards: MeetingCards | null = null): readonly string[] {
  const { arrangement, coverage } = state;
  const frames = arrangement.exposures.length;
  const lines = [
    `${state.about.name}: ${counted(frames, 'frame')}, ${counted(arrangement.sessions.length, 'session')}, ${counted(arrangement.riders.length, 'rider')}, ${coverage.thin.length} thin`,
    ...clockLines(state),
    ...leftOutSentences(state).map(onOneLine),
    ...unmeasuredLines(state),
    ...noBikeLines(state),
    ...underTitle('Sessions', sessionLines(arrangement.sessions)),
    ...underTitle('Paddock and podium', apartLines(arrangement.exposures)),
    ...underTitle('Riders', riderLines(state)),
  ];
  const questions = countOfQuestions(state, cards);
  if (questions > 0) lines.push('', `${counted(questions, 'question')} to answer at the desk.`);
  return lines;
}

/** Of several days each session says which one it was held on. */
function sessionLines(sessions: readonly Session[]): readonly string[] {
  const isOneDay = new Set(sessions.map(({ start }) => dayOf(start))).size < 2;
  return sessions.map(({ name, start, end, frames, group, groupSource }) => {
    const when = `${isOneDay ? '' : `${dayOf(start)} `}${clockOf(start)}–${clockOf(end)}`;
    const whose = group === null ? 'group not known' : group + markOf(groupSource);
    return `  ${name.padEnd(6)} ${when}  ${counted(frames.length, 'frame').padEnd(11)} ${whose}`;
  });
}

/** Frames kept apart from the sessions, in runs of one kind and one voice. */
function apartLines(exposures: readonly Exposure[]): readonly string[] {
  const runs: { readonly apart: Apart; readonly frames: Exposure[] }[] = [];
  for (const exposure of exposures) {
    if (exposure.apart === undefined) continue;
    const last = runs.at(-1);
    const goesOn = last?.apart.is === exposure.apart.is && last.apart.source.kind === exposure.apart.source.kind;
    if (goesOn) last.frames.push(exposure);
    else runs.push({ apart: exposure.apart, frames: [exposure] });
  }
  return runs.map(({ apart: { is, source }, frames }) => {
    const [from, to] = [frames[0]?.wall ?? null, frames.at(-1)?.wall ?? null];
    const until = from === to || to === null ? '' : `–${clockOf(to)}`;
    const when = from === null ? 'no time' : `${clockOf(from)}${until}`;
    const why = source.kind === 'guessed' ? `: ${source.reasons.join(', ')}` : '';
    return `  ${is.padEnd(9)} ${when}  ${counted(frames.length, 'frame').padEnd(11)}${markOf(source)}${why}`;
  });
}

const underTitle = (title: string, lines: readonly string[]): readonly string[] =>
  lines.length === 0 ? [] : ['', title, ...lines];

/** Measurements can always be made again from the files, but not by looking alone. */
function unmeasuredLines({ arrangement, fills, metadata, toMeasure }: DayState): readonly string[] {
  const files = fills.reduce((sum, fill) => sum + fill.files.length, 0);
  const unread = metadata.size === 0 ? files : 0;
  const left = arrangement.exposures.filter(({ role }) => role === 'unmeasured').length;
  if (toMeasure.left > 0 || unread + left === 0) return [];
  const what = unread > 0 ? `${counted(unread, 'file')} brought in, but nothing` : `${counted(left, 'frame')} not`;
  return [`${what} measured here. Open the meeting (tyrewall open): it measures them from the pictures.`];
}

/** Why there is nobody to show, once every frame has been looked at. */
function noBikeLines({ arrangement, toMeasure }: DayState): readonly string[] {
  const frames = arrangement.exposures.length;
  const isMeasured = arrangement.exposures.every(({ role }) => role !== 'unmeasured');
  if (frames === 0 || arrangement.riders.length > 0 || toMeasure.left > 0 || !isMeasured) return [];
  return [
    `No bike was seen in ${frames === 1 ? 'this frame' : `any of these ${frames} frames`}, so there is no rider.`,
  ];
}

function clockLines({ arrangement }: DayState): readonly string[] {
  return arrangement.clocks
    .filter((clock) => clock.offsetMs !== 0 || clock.proposedOffsetMs !== undefined)
    .map((clock) => {
      const offset = clock.proposedOffsetMs ?? clock.offsetMs;
      const name = clock.body
        .split('|')
        .filter((part) => part !== '')
        .join(' ');
      return `Clock of ${name}: ${offset < 0 ? '−' : '+'}${clockOf(Math.abs(offset))}${markOf(clock.source)}`;
    });
}

function riderLines({ arrangement, coverage }: DayState): readonly string[] {
  const covered = new Map(coverage.riders.map((one) => [one.rider, one]));
  return arrangement.riders.map((rider) => {
    const coverageOf = covered.get(rider.key);
    const good = coverageOf?.goodFrames ?? 0;
    const all = coverageOf?.frames ?? 0;
    const number = rider.number === null ? '' : ` [${rider.number}]`;
    const thin = coverageOf?.isThin === true ? '  thin' : '';
    return `  ${rider.code.padEnd(6)} ${rider.livery}${number}: ${counted(rider.passes.length, 'pass', 'passes')}, ${good} good of ${all}${thin}`;
  });
}
