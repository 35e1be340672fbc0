import { judgeBikes } from '../core/cover/index.js';
import { fieldPalette, type GroupPalette } from '../core/cover/palette/index.js';
import { wallOfEpoch } from '../core/numeric/wallTime.js';
import {
  bodyName,
  dustWords,
  type KitRecord,
  type KitRecords,
  kitRecords,
  type StockLeft,
  stockLeft,
} from '../core/review/kit/index.js';
import { epochMsOf } from '../core/units.js';
import { spotsOf } from '../host/day/derive.js';
import { sessionsToCome } from '../host/kit/index.js';
import { type DustOfBody, dustOfBodies } from '../host/measure/dustOfBodies.js';
import { stateRootOf } from '../host/meeting/stateFolder.js';
import { officePathOf, openOffice } from '../host/office/officeFile.js';
import { openWholeDay } from './openWholeDay.js';

/** `tyrewall kit <meeting>`: what the kit did, and the field's palette; changes nothing. */
export async function kitCommand(folder: string, wish: { readonly json?: boolean }): Promise<void> {
  const whole = await openWholeDay(folder, { isForLooking: true });
  try {
    const { arrangement, pixels, metadata, timetable, log, about } = await whole.day.settled();
    const dust = await dustOfBodies(arrangement.exposures, (frame) => whole.day.original(frame));
    const judgements = judgeBikes(arrangement, pixels);
    const records = kitRecords({
      arrangement,
      judgements,
      pixels,
      metadata,
      spotName: namesOf(spotsOf(log, about.spots)),
    });
    const { stateFolder } = whole.meeting;
    const { kit } = await openOffice(officePathOf(stateRootOf(stateFolder))).read();
    const now = wallOfEpoch(epochMsOf(Date.now()), about.zone);
    const stock = stockLeft(arrangement, metadata, { items: kit, sessionsToCome: sessionsToCome(timetable, now) });
    const palette = fieldPalette(arrangement);
    if (wish.json === true) console.log(JSON.stringify({ dust, ...records, stock, palette }, null, 2));
    else for (const line of kitLines(dust, records, stock, palette)) console.log(line);
  } finally {
    await whole.close();
  }
}

const namesOf =
  (spots: readonly { readonly id: string; readonly name: string }[]) =>
  (id: string): string =>
    spots.find((spot) => spot.id === id)?.name ?? id;

export const kitLines = (
  dust: readonly DustOfBody[],
  records: KitRecords,
  stock: readonly StockLeft[],
  palette: readonly GroupPalette[],
): readonly string[] => [
  ...(dust.length === 0 ? ['No frame was brought in yet: of the kit nothing is known'] : ['Dust']),
  ...dust.flatMap(dustLines),
  ...underTitle('How low you can go', records.howLow),
  ...underTitle('Sharp by shutter', records.sharpness),
  ...underTitle('Highlights', records.clipped),
  ...underTitle('Shadows', records.blocked),
  ...underTitle('Focus', records.focus),
  ...underTitle('Shimmer', records.shimmer),
  ...underTitle('Clocks', records.clocks),
  ...underTitle('Cards and batteries', stock),
  ...palette.flatMap(({ group, sessions, riders, sentences }) => [
    '',
    `Palette of ${group}, ${sessions.join(', ')}, ${riders} ${riders === 1 ? 'rider' : 'riders'} (guess)`,
    ...sentences.map((sentence) => `  ${sentence}`),
  ]),
];

const underTitle = (title: string, records: readonly KitRecord[]): readonly string[] =>
  records.length === 0 ? [] : ['', title, ...records.map(({ sentence }) => `  ${sentence}`)];

function dustLines({ body, found }: DustOfBody): readonly string[] {
  const name = bodyName(body);
  if (found.kind === 'cannot-tell') return [`  ${name}: cannot tell. ${found.reason}`];
  if (found.spots.length === 0) return [`  ${name}: none found in ${found.frames} frames.`];
  return found.spots.map((spot) => `  ${name}: ${dustWords(spot)}`);
}
