import { judgeBikes } from '../core/cover/index.js';
import { fieldPalette, type GroupPalette } from '../core/cover/palette/index.js';
import { bodyName, dustWords, type KitRecords, kitRecords } from '../core/review/kit/index.js';
import { type DustOfBody, dustOfBodies } from '../host/measure/dustOfBodies.js';
import { openWholeDay } from './openWholeDay.js';

/** `tyrewall kit <meeting>`: what the kit did, and the field's palette; changes nothing. */
export async function kitCommand(folder: string, wish: { readonly json?: boolean }): Promise<void> {
  const whole = await openWholeDay(folder, { isForLooking: true });
  try {
    const { arrangement, pixels, metadata } = await whole.day.settled();
    const dust = await dustOfBodies(arrangement.exposures, (frame) => whole.day.original(frame));
    const judgements = judgeBikes(arrangement, pixels);
    const records = kitRecords({ arrangement, judgements, pixels, metadata });
    const palette = fieldPalette(arrangement);
    if (wish.json === true) console.log(JSON.stringify({ dust, ...records, palette }, null, 2));
    else for (const line of kitLines(dust, records, palette)) console.log(line);
  } finally {
    await whole.close();
  }
}

export const kitLines = (
  dust: readonly DustOfBody[],
  { sharpness, clipped }: KitRecords,
  palette: readonly GroupPalette[],
): readonly string[] => [
  'Dust',
  ...dust.flatMap(dustLines),
  ...underTitle('Sharp by shutter', sharpness),
  ...underTitle('Highlights', clipped),
  ...palette.flatMap(({ group, sessions, riders, sentences }) => [
    '',
    `Palette of ${group}, ${sessions.join(', ')}, ${riders} ${riders === 1 ? 'rider' : 'riders'} (guess)`,
    ...sentences.map((sentence) => `  ${sentence}`),
  ]),
];

const underTitle = (title: string, records: readonly { readonly sentence: string }[]): readonly string[] =>
  records.length === 0 ? [] : ['', title, ...records.map(({ sentence }) => `  ${sentence}`)];

function dustLines({ body, found }: DustOfBody): readonly string[] {
  const name = bodyName(body);
  if (found.kind === 'cannot-tell') return [`  ${name}: cannot tell. ${found.reason}`];
  if (found.spots.length === 0) return [`  ${name}: none found in ${found.frames} frames.`];
  return found.spots.map((spot) => `  ${name}: ${dustWords(spot)}`);
}
