/** Frames that stand on no day of the meeting, have no time or could not be measured: said with what to do, so that none is lost unseen. */
import type { Exposure } from '../../core/arrange/types.js';
import type { WallMs } from '../../core/units.js';
import type { DayState } from './types.js';

type Known = Pick<DayState, 'about' | 'arrangement' | 'pixels' | 'metadata' | 'fills'>;

/** One sentence a card or a cause, for terminal and desk alike. */
export const leftOutSentences = (state: Known): readonly string[] => [
  ...outsideSentences(state),
  ...timelessSentences(state),
  ...unmeasurableSentences(state),
  ...otherPictureSentences(state),
];

const isUnmeasurable = ({ pixels }: Known, { frameId }: Exposure): boolean =>
  pixels.get(frameId)?.kind === 'unmeasurable';

/** Cards that were not formatted since another day, or a camera whose date is wrong. */
function outsideSentences(state: Known): readonly string[] {
  const { firstDay, lastDay } = state.about;
  const outside = state.arrangement.exposures.filter(
    ({ wall }) => wall !== null && (dayOf(wall) < firstDay || dayOf(wall) > lastDay),
  );
  const days = firstDay === lastDay ? firstDay : `${firstDay} to ${lastDay}`;
  return [...groupedBy(outside, ({ fill }) => fill)].map(([fill, frames]) => {
    const walls = frames.flatMap(({ wall }) => wall ?? []).sort((a, b) => a - b);
    const [first, last] = [walls[0]!, walls.at(-1)!];
    const when = first === last ? `on ${timeOf(first)}` : `from ${timeOf(first)} to ${timeOf(last)}`;
    const [are, they] = frames.length === 1 ? ['is', 'It is'] : ['are', 'They are'];
    return `${counted(frames.length, 'frame')} of ${folderOf(state, fill)} ${are} of no day of this meeting (${days}): taken ${when}. ${they} copied and kept. For a meeting of their own bring the card in again with --day ${dayOf(first)}; if this meeting lasts longer, put its firstDay and lastDay right in meeting.json.`;
  });
}

function timelessSentences(state: Known): readonly string[] {
  const timeless = state.arrangement.exposures.filter((one) => one.wall === null && !isUnmeasurable(state, one));
  if (timeless.length === 0) return [];
  return [
    `${counted(timeless.length, 'frame')} without a usable capture time, kept but in no session: ${namesOf(state, timeless)}. Look at the clock of that camera before it goes out again.`,
  ];
}

function unmeasurableSentences(state: Known): readonly string[] {
  const dark = state.arrangement.exposures.filter((one) => isUnmeasurable(state, one));
  return [...groupedBy(dark, (one) => causeOf(state, one))].map(
    ([cause, frames]) =>
      `${counted(frames.length, 'frame')} that could not be measured, kept as on the card: ${namesOf(state, frames)}. ${cause}`,
  );
}

/** What the file itself is like says more than where a decoder stopped. */
function causeOf({ pixels, metadata }: Known, { frameId, mainFile }: Exposure): string {
  const measurement = pixels.get(frameId);
  const reason = measurement?.kind === 'unmeasurable' ? measurement.reason : '';
  const ofFile = metadata.get(mainFile)?.notes.find((note) => /^Expected a (whole )?picture/.test(note));
  return ofFile ?? reason;
}

/** Pictures of kinds that are no frames: beside a JPEG or raw they are the same exposure once more, alone they are missed. */
const OTHER_PICTURE = /\.(tiff?|png|hei[cf]|hif|avif|webp|jxl|bmp|gif)$/i;

function otherPictureSentences(state: Known): readonly string[] {
  const stemOf = (path: string): string => path.replace(/\.[^./]*$/, '').toLowerCase();
  const frames = new Set(state.arrangement.exposures.map(({ fill, path }) => `${fill} ${stemOf(path)}`));
  const alone = state.fills.flatMap(({ id, files }) =>
    files.flatMap(({ path }) =>
      OTHER_PICTURE.test(path) && !frames.has(`${id} ${stemOf(path)}`) ? [{ fill: id, path }] : [],
    ),
  );
  if (alone.length === 0) return [];
  return [
    `${counted(alone.length, 'picture')} neither JPEG nor raw, kept as on the card and in nobody’s set: ${namesOf(state, alone)}. Write JPEGs of them under the same names and bring those in; have the camera write JPEG from now on.`,
  ];
}

const namedAtMost = 5;

const namesOf = (state: Known, frames: readonly Pick<Exposure, 'fill' | 'path'>[]): string => {
  const names = frames.slice(0, namedAtMost).map(({ fill, path }) => `${folderOf(state, fill)}/${path}`);
  return names.join(', ') + (frames.length > namedAtMost ? ', …' : '');
};

const folderOf = ({ fills }: Known, fill: Exposure['fill']): string =>
  fills.find(({ id }) => id === fill)?.folder ?? fill;

function groupedBy<Key>(frames: readonly Exposure[], keyOf: (frame: Exposure) => Key): ReadonlyMap<Key, Exposure[]> {
  const groups = new Map<Key, Exposure[]>();
  for (const frame of frames) {
    const group = groups.get(keyOf(frame)) ?? [];
    group.push(frame);
    groups.set(keyOf(frame), group);
  }
  return groups;
}

const counted = (count: number, one: string): string => `${count} ${one}${count === 1 ? '' : 's'}`;
const dayOf = (wall: WallMs): string => new Date(wall).toISOString().slice(0, 10);
const timeOf = (wall: WallMs): string => new Date(wall).toISOString().slice(0, 19).replace('T', ' ');
