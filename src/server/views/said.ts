/** What was said, in a person's words. */
import type { Slip } from '../../core/plan/timetable/types.js';
import type { DayState } from '../../host/day/types.js';
import type { SaidView } from '../types.js';
import { type Known, knownOf } from './known.js';
import { bodyWords } from './questionWords.js';
import { clockOf, spanWords } from './wallTime.js';
import { capital, counted } from './words.js';

type Entry = DayState['log']['inForce'][number];

/** What a line of the log says, in a person's words. */
function saidWords(known: Known, { line, decision }: Entry): string | null {
  switch (decision.kind) {
    case 'body-clock':
      return decision.offsetMs === 0
        ? `${capital(bodyWords(decision.body))} was right`
        : `${capital(bodyWords(decision.body))} was ${decision.offsetMs < 0 ? 'fast' : 'slow'} by ${spanWords(decision.offsetMs)}`;
    case 'same-rider':
      return `${counted(decision.points.length, 'picture')} are one rider`;
    case 'different-riders':
      return 'These are different riders';
    case 'line-up':
      if (decision.chosen.length > 0) return `${decision.chosen.length} of a line-up joined`;
      return decision.unsure.length === decision.shown.length ? 'Nobody can tell' : 'None of a line-up';
    case 'rider-is':
      if (decision.number) return `Number ${decision.number}${inClass(known, decision.class)}`;
      return decision.person === undefined ? 'A rider was named' : 'A bike goes with a number card';
    case 'card-answered':
      return decision.is === 'taken' ? null : 'A card in a picture is not taken';
    case 'finished-elsewhere':
      return 'A picture finished elsewhere came back';
    case 'settled':
      return `A sheet of ${counted(decision.files.length, 'frame')} is right`;
    case 'instructor':
      return decision.is ? 'Instructs, and is not counted' : 'Does not instruct';
    case 'head-count':
      return `${counted(decision.riders, 'rider')} of ${known.groupByKey.get(decision.group)?.name ?? decision.group} by the head count`;
    case 'boundary':
      return `${decision.is === 'here' ? 'A session begins' : 'No border'} at ${clockOf(decision.at)}`;
    case 'session-is':
      return `${clockOf(decision.at)} is ${known.groupByKey.get(decision.group)?.name ?? decision.group}`;
    case 'stood-at':
      return `Stood at ${known.spotById.get(decision.spot)?.name ?? decision.spot}, ${clockOf(decision.from)} to ${clockOf(decision.to)}`;
    case 'timetable':
      return `A timetable of ${counted(decision.timetable.slots.length, 'session')}`;
    case 'spots':
      return counted(decision.spots.length, 'spot');
    case 'circuit':
      if (line.decision.kind === 'circuit-edit') return `A change of the circuit ${decision.circuit.name}`;
      return `The circuit ${decision.circuit.name}, ${counted(decision.circuit.spots.length, 'spot')}`;
    case 'permit':
      return decision.has ? 'You have the permit' : 'You have no permit';
    case 'slip':
      return slipSentence(decision.slip);
    case 'entries':
      return `An entry list of ${counted(decision.entries.length, 'line')}`;
    case 'wishes':
      return `${capital(counted(decision.wishes.length, 'wish', 'wishes'))} for the plan`;
    case 'speed-at':
      return `${known.groupByKey.get(decision.group)?.name ?? decision.group} at ${decision.kmh} km/h by ${known.spotById.get(decision.spot)?.name ?? decision.spot}`;
    case 'sky':
      return `${SKY_WORDS[decision.is]} from ${clockOf(decision.from)} to ${clockOf(decision.to)}`;
    case 'plan-taken':
      return `A plan was taken at ${clockOf(decision.at)}`;
    case 'got':
      return `Got at ${clockOf(decision.at)}`;
    case 'apart':
      return decision.is === 'session' ? 'A frame belongs to its session' : `A frame kept apart: ${decision.is}`;
    case 'keep':
      return 'A frame is kept';
    case 'leave-out':
      return 'A frame is left out';
    case 'choose-rules':
      return 'How many keepers there shall be';
    case 'gone-through':
      return decision.unseen ? 'A set stands as proposed' : 'A set was gone through';
    case 'finish':
      return `The finish “${decision.finish.name}”`;
    case 'finish-of':
      return 'A frame is finished by itself';
    case 'crop-of':
      return decision.box === null ? `A crop ${decision.ratio} by the rule again` : `A crop ${decision.ratio}`;
    case 'take-down':
      return 'In no gallery, for good';
    case 'held':
      return 'A frame is held back';
    case 'released':
      return 'A frame that was held back is released';
    case 'own-link':
      return decision.salt === null ? 'A private link ends' : 'A private link to a rider’s set';
    case 'minor':
      return MINOR_WORDS[decision.is];
    default:
      return null;
  }
}

const inClass = (known: Known, key: string | undefined): string =>
  key === undefined ? '' : ` in ${known.groupByKey.get(key)?.name ?? key}`;

const MINOR_WORDS = {
  'without-consent': 'A rider is a minor: shown nowhere, named nowhere',
  'with-consent': 'A rider is a minor, a parent agreed to pictures: named nowhere',
  'of-age': 'A rider is of age',
} as const;

const SKY_WORDS = { clear: 'Clear', 'thin-cloud': 'Thin cloud', overcast: 'Overcast' } as const;

export function slipSentence(slip: Slip): string {
  const minutes = (ms: number) => counted(Math.round(Math.abs(ms) / 60_000), 'minute');
  switch (slip.kind) {
    case 'late':
      return `${slip.slot} started ${minutes(slip.byMs)} ${slip.byMs < 0 ? 'early' : 'late'}`;
    case 'red-flag':
      return slip.resumesAt === undefined
        ? `Red flag at ${clockOf(slip.at)}`
        : `Red flag at ${clockOf(slip.at)}, on again at ${clockOf(slip.resumesAt)}`;
    case 'lunch-shorter':
      return `Lunch is ${minutes(slip.byMs)} ${slip.byMs < 0 ? 'longer' : 'shorter'}`;
    case 'group-added':
      return `${slip.group.name} joined the timetable`;
    case 'dropped':
      return `${slip.slot} does not run`;
  }
}

/** A gesture of several lines in one sentence: what moves pictures says of each pair that they differ. */
function gestureSentence(known: Known, entries: readonly Entry[]): string | null {
  const kinds = entries.map(({ decision }) => decision.kind);
  if (kinds.includes('different-riders') && kinds.length > 1) {
    if (kinds[0] === 'line-up') return 'Some of a set are somebody else’s';
    return kinds.at(-1) === 'same-rider' ? 'Pictures went to another rider' : 'Pictures are another rider’s';
  }
  const words = entries.flatMap((entry) => saidWords(known, entry) ?? []);
  if (words.length < 2) return words[0] ?? null;
  return `${words[0]}, and ${(words.length - 1).toLocaleString('en-GB')} more`;
}

const MOST_SAID = 8;

/** The newest gestures in force, newest first, one line each. */
export function saidViews(known: Known): readonly SaidView[] {
  const { log } = known.state;
  const byGesture = new Map<string, Entry[]>();
  for (const entry of log.inForce) {
    const own = byGesture.get(entry.line.gesture);
    if (own) own.push(entry);
    else byGesture.set(entry.line.gesture, [entry]);
  }
  const open = new Set(log.gestures);
  const said = [...byGesture.values()].flatMap((entries): readonly SaidView[] => {
    const text = gestureSentence(known, entries);
    const line = entries[0]?.line;
    return text === null || !line
      ? []
      : [
          {
            gesture: line.gesture,
            text,
            atMs: line.at,
            initials: known.initials,
            canBeTakenBack: open.has(line.gesture),
          },
        ];
  });
  return said.slice(-MOST_SAID).reverse();
}

/** What a gesture said, for the sentence about taking it back; in the middle of a sentence. */
export function gestureWords(state: DayState, gesture: string): string {
  const entries = state.log.inForce.filter(({ line }) => line.gesture === gesture);
  const words = gestureSentence(knownOf(state), entries);
  return words === null ? 'the last thing said' : words.replace(/^./, (letter) => letter.toLowerCase());
}
