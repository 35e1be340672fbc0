/** What a booking's words come to: “12 pictures from 3 spots”. What they do not say is not guessed. Rule OG17. */
import { plain } from '../../../plan/timetable/index.js';
import type { BookedPackage } from './types.js';

/** As `plain` leaves them, in the languages entry lists are read in. */
const PICTURES = 'pictures?|pics?|photos?|images?|shots?|bild|bilder|fotos?|immagini|foto|imagenes';
const SPOTS =
  'spots?|places?|corners?|positions?|stellen?|platze?|kurven?|endroits?|virages?|punti|punto|posti|curve|sitios?|curvas?';

const counted = (nouns: string): RegExp =>
  new RegExp(`(?<![\\p{L}\\p{N}])(\\d{1,3}) (?:[\\p{L}]+ )?(?:${nouns})(?![\\p{L}\\p{N}])`, 'u');
const OF_PICTURES = counted(PICTURES);
const OF_SPOTS = counted(SPOTS);

export function bookedIn(wants: string): BookedPackage {
  const words = plain(wants);
  const figure = (of: RegExp): number | null => {
    const found = Number(of.exec(words)?.[1]);
    return Number.isInteger(found) && found > 0 ? found : null;
  };
  return { pictures: figure(OF_PICTURES), spots: figure(OF_SPOTS) };
}
