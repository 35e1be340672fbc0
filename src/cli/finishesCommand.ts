/** `tyrewall finishes [meeting]`: finishes kept for other meetings, by name, and the one a meeting goes by. */
import { PLAIN_FINISH } from '../core/finish/index.js';
import type { Finish } from '../core/log/finishSaid.js';
import type { FoldedLog } from '../core/log/types.js';
import { finishesPathOf, isNamed, openKeptFinishes } from '../host/finish/looks/index.js';
import { defaultStateRoot } from '../host/meeting/stateFolder.js';
import { CliError } from './cliError.js';
import { lookAt, type MeetingWish, sayDecisions } from './sayDecisions.js';
import { onOneLine } from './words.js';

export interface FinishesWish extends MeetingWish {
  /** The meeting goes by this one from now on. */
  readonly by?: string;
  /** The meeting's is kept under this name. */
  readonly keepAs?: string;
  readonly letGo?: string;
}

export async function finishesCommand(
  folder: string | undefined,
  { by, keepAs, letGo, ...root }: FinishesWish,
  say: (line: string) => void = console.log,
): Promise<void> {
  const kept = openKeptFinishes(finishesPathOf(root.stateRoot ?? defaultStateRoot()));
  if (letGo !== undefined) {
    const gone = named(await kept.read(), letGo);
    await kept.letGo(gone.name);
    say(`“${onOneLine(gone.name)}” is kept no longer; meetings that go by it still do.`);
  }
  if (keepAs !== undefined) {
    const finish = finishSaid((await lookAt(meetingIn(folder, '--keep-as'), root)).log);
    if (finish === null)
      throw new CliError('Expected a finish to keep, but none is said in this meeting yet. Say one at its desk first.');
    await kept.keep({ ...finish, name: nameFrom(keepAs) });
  }
  if (by !== undefined) {
    const finish = named(await kept.read(), by);
    await sayDecisions(meetingIn(folder, '--by'), root, [{ kind: 'finish', of: 'track', finish }]);
  }
  if (folder !== undefined) say(standsLine(finishSaid((await lookAt(folder, root)).log)));
  for (const line of keptLines(await kept.read())) say(line);
}

const LONGEST_NAME = 60;
function nameFrom(text: string): string {
  const name = text.trim();
  if (name !== '' && name.length <= LONGEST_NAME) return name;
  throw new CliError(`Expected a name of 1 to ${LONGEST_NAME} letters after --keep-as but got ${onOneLine(text)}.`);
}

function meetingIn(folder: string | undefined, option: string): string {
  if (folder !== undefined) return folder;
  throw new CliError(`Expected a meeting's folder with ${option}. Say tyrewall finishes <meeting> ${option} <name>.`);
}

function named(finishes: readonly Finish[], name: string): Finish {
  const finish = finishes.find((one) => isNamed(one, name));
  if (finish) return finish;
  const known = finishes.map((one) => onOneLine(one.name)).join(', ');
  throw new CliError(
    `Expected the name of a kept finish but got ${onOneLine(name)}. ${known === '' ? 'None is kept yet: say --keep-as, or keep one at the desk.' : `There are: ${known}.`}`,
  );
}

const finishSaid = (log: FoldedLog): Finish | null =>
  log.inForce.reduce<Finish | null>(
    (last, { decision }) => (decision.kind === 'finish' && decision.of === 'track' ? decision.finish : last),
    null,
  );

const standsLine = (finish: Finish | null): string =>
  finish === null
    ? 'No finish is said in this meeting: pictures stay as they were taken.'
    : `This meeting goes by “${onOneLine(finish.name)}”: ${figuresOf(finish)}.`;

const keptLines = (finishes: readonly Finish[]): readonly string[] =>
  finishes.length === 0
    ? ['No finish is kept for other meetings yet.']
    : ['Kept for other meetings', ...finishes.map((one) => `  ${onOneLine(one.name)}: ${figuresOf(one)}`)];

/** What differs from a picture as it was taken. */
function figuresOf(finish: Finish): string {
  const { tones } = finish;
  const said = [
    differs('alike', finish.alike, PLAIN_FINISH.alike),
    differs('stops', finish.exposureEv, PLAIN_FINISH.exposureEv),
    differs('warmth', finish.warmth, PLAIN_FINISH.warmth),
    differs('tint', finish.tint, PLAIN_FINISH.tint),
    differs('contrast', tones.contrast, PLAIN_FINISH.tones.contrast),
    differs('bright parts', tones.brightParts, PLAIN_FINISH.tones.brightParts),
    differs('shade', tones.shade, PLAIN_FINISH.tones.shade),
    differs('colour', finish.strengths.red, PLAIN_FINISH.strengths.red),
    differs('grass', finish.strengths.green, PLAIN_FINISH.strengths.green),
    differs('edges', finish.sharpness, PLAIN_FINISH.sharpness),
    differs('grain', finish.grain, PLAIN_FINISH.grain),
    ...(finish.isLevelled ? ['level'] : []),
    ...(finish.ratios.length > 0 ? [`crops ${finish.ratios.join(' ')}`] : []),
  ].filter((one) => one !== null);
  return said.length === 0 ? 'as it is' : said.join(', ');
}

const differs = (name: string, value: number, plain: number): string | null =>
  value === plain ? null : `${name} ${value}`;
