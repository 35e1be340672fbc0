/** A season's riders as one gallery, over a few hundred pictures that come again and again. */
import type { FindRider } from '../../src/core/handover/find/types.js';
import type { Gallery, GalleryPicture, GalleryRider } from '../../src/core/handover/types.js';
import type { FrameId, RiderId, RiderKey } from '../../src/core/ids.js';
import type { WallMs } from '../../src/core/units.js';

export const SEASON_PICTURES = 300;
const hex = (letter: string, n: number) => `${letter}${n.toString(16).padStart(31, '0')}`;

/** Its first page shows the sessions of one meeting. */
export function seasonGallery(riders: readonly FindRider[]): Gallery {
  let n = 0;
  const picture = (entry: FindRider['entries'][number]): GalleryPicture => {
    n = (n + 1) % SEASON_PICTURES;
    return {
      id: hex('a', n),
      frameId: hex('f', n) as FrameId,
      size: { widthPx: 1400, heightPx: 933 },
      box: [0.2, 0.2, 0.6, 0.6],
      isShared: false,
      session: entry.session,
      spot: entry.spot === null ? null : `Spot ${entry.spot}`,
      wall: (entry.quarter === null ? null : entry.quarter * 900_000) as WallMs | null,
    };
  };
  const groups = ['N', 'I', 'F'];
  return {
    edition: 'season',
    title: 'Ebbstone',
    firstDay: '2026-04-04',
    lastDay: '2026-10-25',
    circuit: null,
    credit: null,
    contact: null,
    groups: groups.map((key) => ({ key, name: key })),
    sessions: Array.from({ length: 21 }, (_, index) => ({
      index,
      name: `${groups[index % 3]}${1 + Math.floor(index / 3)}`,
      group: groups[index % 3]!,
      start: (9 * 3_600_000 + index * 1_200_000) as WallMs,
      riders: [hex('b', 0)],
    })),
    spots: [1, 2, 3, 4, 5, 6].map((number) => ({ name: `Spot ${number}`, number })),
    riders: riders.map((rider, i) => riderOf(rider, i, rider.entries.map(picture))),
    oldAddresses: [],
  };
}

function riderOf(rider: FindRider, i: number, pictures: readonly GalleryPicture[]): GalleryRider {
  const livery = [rider.bike.join(' / '), rider.leathers === null ? '' : `${rider.leathers} leathers`].join(', ');
  return {
    key: `r${i}` as RiderKey,
    id: `r${i}` as RiderId,
    publicId: hex('b', i),
    livery,
    look: { bike: rider.bike, isMulticoloured: false, leathers: rider.leathers, helmet: null },
    colours: rider.bike,
    number:
      rider.number === null
        ? null
        : {
            text: rider.number.text,
            source: rider.number.isGuess ? { kind: 'guessed', confidence: 0.8, reasons: [] } : { kind: 'said' },
          },
    pictures,
    face: pictures[0]!,
    faceId: hex('c', i % SEASON_PICTURES),
    separated: [],
    perhaps: [],
  };
}
