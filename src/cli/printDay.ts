/** The day in a terminal: sessions, riders, who is thin. Guesses are marked with a question mark, a person's word with an exclamation mark. */
import type { Source } from '../core/arrange/types.js';
import { outOf100 } from '../core/units.js';
import { leftOutSentences } from '../host/day/index.js';
import type { DayState } from '../host/day/types.js';
import { clockOf, counted, onOneLine } from './words.js';

const markOf = (source: Source): string =>
  source.kind === 'said' ? ' (said)' : source.kind === 'guessed' ? ` (guess, ${outOf100(source.confidence)} %)` : '';

export function dayLines(state: DayState): readonly string[] {
  const { arrangement, coverage } = state;
  const frames = arrangement.exposures.length;
  const lines = [
    `${state.about.name}: ${counted(frames, 'frame')}, ${counted(arrangement.sessions.length, 'session')}, ${counted(arrangement.riders.length, 'rider')}, ${coverage.thin.length} thin`,
    ...clockLines(state),
    ...leftOutSentences(state).map(onOneLine),
    ...noBikeLines(state),
    ...underTitle(
      'Sessions',
      arrangement.sessions.map(
        (session) =>
          `  ${session.name.padEnd(6)} ${clockOf(session.start)}–${clockOf(session.end)}  ${counted(session.frames.length, 'frame').padEnd(11)} ${session.group === null ? 'group not known' : session.group + markOf(session.groupSource)}`,
      ),
    ),
    ...underTitle('Riders', riderLines(state)),
  ];
  if (arrangement.questions.length > 0)
    lines.push('', `${counted(arrangement.questions.length, 'question')} to answer at the desk.`);
  return lines;
}

const underTitle = (title: string, lines: readonly string[]): readonly string[] =>
  lines.length === 0 ? [] : ['', title, ...lines];

/** Why there is nobody to show, once every frame has been looked at. */
function noBikeLines({ arrangement, toMeasure }: DayState): readonly string[] {
  const frames = arrangement.exposures.length;
  if (frames === 0 || arrangement.riders.length > 0 || toMeasure.left > 0) return [];
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
