/** Pictures in words for whoever writes about the meeting: class and number; names only where they were asked for. Rules OG10, OG11. */
import type { Arrangement, Exposure, Rider, Source } from '../../arrange/types.js';
import { ridersByFrame } from '../../finish/index.js';
import type { FrameId } from '../../ids.js';
import { outOf100 } from '../../units.js';
import type { CaptionLine, SetPicture } from './types.js';

export interface CaptionsInput {
  readonly pictures: readonly SetPicture[];
  readonly arrangement: Arrangement;
  readonly meeting: string;
  readonly fileOf: (frame: FrameId) => string;
  readonly groupName: (group: string) => string;
  readonly spotName: (spot: string) => string;
  /** Who rides under a number, by the entry list; null: nobody, or their name is not to be said. */
  readonly nameOf: (group: string | null, number: string) => string | null;
}

export function captionsOf(input: CaptionsInput): readonly CaptionLine[] {
  const exposures = new Map(input.arrangement.exposures.map((exposure) => [exposure.frameId, exposure]));
  const riders = ridersByFrame(input.arrangement);
  return input.pictures.flatMap((picture) => {
    const exposure = exposures.get(picture.frameId);
    return exposure === undefined ? [] : [lineOf(picture, exposure, riders.get(picture.frameId) ?? [], input)];
  });
}

function lineOf(
  picture: SetPicture,
  exposure: Exposure,
  riders: readonly Rider[],
  { arrangement, meeting, fileOf, groupName, spotName, nameOf }: CaptionsInput,
): CaptionLine {
  const { group, spot, apart, grid, session } = picture.shows;
  const numbers = riders.flatMap(({ number, numberSource }) =>
    number === null ? [] : [{ number, source: numberSource ?? SAID }],
  );
  const sure = numbers.filter(({ source }) => source.kind !== 'guessed').map(({ number }) => number);
  const names = sure.flatMap((number) => nameOf(group, number) ?? []);
  const [date = '', time = ''] =
    exposure.wall === null ? [] : new Date(exposure.wall).toISOString().slice(0, 19).split('T');
  const isGrid = grid !== null && apart?.is !== 'podium';
  const what = isGrid ? 'grid' : (apart?.is ?? 'riding');
  const line = {
    number: picture.number,
    file: fileOf(picture.frameId),
    date,
    time,
    session: session === null ? '' : (arrangement.sessions[session]?.name ?? ''),
    class: group === null ? '' : groupName(group),
    spot: spot === null ? '' : spotName(spot),
    what,
    numbers: sure.join(' '),
    names: names.join(', '),
    guesses: guessesOf(numbers, picture).join('; '),
  };
  return { ...line, caption: captionOf(line, meeting, isGrid ? grid.slot : null) };
}

const SAID: Source = { kind: 'said' };

/** What is a guess is not in the caption, which gets printed. */
function captionOf(line: Omit<CaptionLine, 'caption'>, meeting: string, gridOf: string | null): string {
  const who = [line.names, line.numbers === '' ? '' : `No. ${line.numbers.replaceAll(' ', ', ')}`]
    .filter(Boolean)
    .join(', ');
  const what = line.what === 'riding' ? '' : gridOf === null ? line.what : `grid of ${gridOf}`;
  return [who, line.class, what, line.spot, meeting, line.date].filter(Boolean).join(', ');
}

function guessesOf(
  numbers: readonly { readonly number: string; readonly source: Source }[],
  { shows: { apart, grid } }: SetPicture,
): readonly string[] {
  const told = (words: string, source: Source) =>
    source.kind === 'guessed' ? [`${words}, ${outOf100(source.confidence)} of 100`] : [];
  return [
    ...numbers.flatMap(({ number, source }) => told(`number ${number}`, source)),
    ...(apart === null ? [] : told(apart.is, apart.source)),
    ...(grid === null ? [] : told(`of ${grid.slot}`, grid.source)),
  ];
}
