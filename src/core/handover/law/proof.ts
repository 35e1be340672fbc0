/** The proof of a takedown, to be read and given to whoever asked: what left where, when, and what is still to leave. Rule LW11. */
import type { PlaceCleared, TakeDownProof } from './types.js';

export const isWhole = ({ places }: TakeDownProof): boolean => places.every(({ standing }) => standing === 'cleared');

/**
 * The same takedown looked at again: what was removed before stays in the proof, and what a place says now of itself counts. A place
 * that is not asked this time stands as it stood.
 */
export function provedAgain(before: TakeDownProof, now: TakeDownProof): TakeDownProof {
  const known = new Map(before.places.map((place) => [place.place, place]));
  const again = now.places.map((place): PlaceCleared => {
    const earlier = known.get(place.place);
    known.delete(place.place);
    return { ...place, removed: [...(earlier?.removed ?? []), ...place.removed] };
  });
  return { ...now, saidAt: before.saidAt, places: [...again, ...known.values()] };
}

const iso = (at: number): string => new Date(at).toISOString();

const ASKED = {
  frames: 'Single pictures',
  rider: 'All pictures of a rider',
  person: 'All pictures of a person',
} as const;

export function proofText(proof: TakeDownProof): string {
  const pending = proof.places.filter(({ standing }) => standing === 'pending');
  const count = proof.places.reduce((sum, { removed }) => sum + removed.length, 0);
  return [
    `Taken down: ${proof.meeting}`,
    '',
    `What was asked   ${ASKED[proof.asked]}`,
    `Said             ${iso(proof.saidAt)}`,
    `As it stood      ${iso(proof.provedAt)}`,
    `Removed          ${count} in ${proof.places.length} places`,
    `Still to leave   ${pending.length === 0 ? 'nothing' : pending.map(({ place }) => place).join(', ')}`,
    `Word             ${proof.gesture}`,
    '',
    ...proof.places.flatMap(linesOf),
    'Addresses that show nothing any more:',
    ...proof.addresses.map((address) => `  ${address}`),
    '',
    'A SHA-256 is of the file as it was before it was removed. The word stands in the log of the meeting: no later gallery',
    'shows these pictures. The camera’s own files on the photographer’s disks are not part of what is handed over.',
    '',
  ].join('\n');
}

function linesOf(place: PlaceCleared): readonly string[] {
  const said =
    place.standing === 'pending'
      ? `pending: ${place.sentence}`
      : place.removed.length === 0
        ? 'nothing lay there'
        : `${place.removed.length} removed`;
  const removed = place.removed.map(({ what, sha256, bytes }) =>
    [`  ${what}`, bytes === null ? null : `${bytes} bytes`, sha256 === null ? null : `SHA-256 ${sha256}`]
      .filter((part) => part !== null)
      .join('  '),
  );
  return [`${place.place}: ${said}`, ...removed, ''];
}
