/** Events of the calendar made before that the day no longer has: said to be cancelled, so that they leave the phone too. */
import { contentLine, unfolded } from './lines.js';

/** Kept as they were written, so that a reader knows which one is meant. */
const KEPT = /^(UID|DTSTART|DTEND|SUMMARY)[;:]/;

/** Only ours: other events that somebody put into the file are not for us to cancel. */
export function cancelledEvents(
  before: string,
  prefix: string,
  now: readonly { readonly uid: string }[],
  revision: readonly string[],
): readonly string[] {
  const uids = new Set(now.map(({ uid }) => uid));
  return eventsIn(before).flatMap((lines) => {
    const uid = lines.find((line) => line.startsWith('UID:'))?.slice('UID:'.length);
    if (uid === undefined || !uid.startsWith(prefix) || uids.has(uid)) return [];
    const kept = lines
      .filter((line) => KEPT.test(line))
      .map((line) => {
        const colon = line.indexOf(':');
        return contentLine(line.slice(0, colon), line.slice(colon + 1));
      });
    return ['BEGIN:VEVENT', ...kept, ...revision, 'STATUS:CANCELLED', 'END:VEVENT'];
  });
}

function eventsIn(calendar: string): readonly (readonly string[])[] {
  const events: string[][] = [];
  let isWithin = false;
  for (const line of unfolded(calendar)) {
    if (line === 'BEGIN:VEVENT') events.push([]);
    if (line === 'BEGIN:VEVENT' || line === 'END:VEVENT') isWithin = line === 'BEGIN:VEVENT';
    else if (isWithin) events.at(-1)!.push(line);
  }
  return events;
}
