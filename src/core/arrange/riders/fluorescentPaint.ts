/**
 * Fluorescent paint told from ordinary, over all pictures of a rider: rule MS22. One picture never says it. A paint counts
 * where it met white in a light that is trusted: the white is about as bright as the whites of the other riders of that
 * session, for beside silver or grey any paint looks bright.
 */
import { fluorescent, isFluorescent, ordinaryOf } from '../../measure/index.js';
import type { BesideWhite, ColourName, ColourShare, Subject, SubjectPart } from '../../measure/types.js';

export interface SeenInSession {
  readonly subject: Pick<Subject, 'whiteLevel' | 'besideWhite'>;
  readonly session: number;
}

/** Of a session's bikes this share shows darker neutral parts than its white. A third of a field wears or rides white. */
const DARKER_THAN_WHITE = 0.75;
/** With fewer bikes the brightest may all be silver. */
const LEAST_BIKES = 8;
/**
 * What passes for white has at least this share of a session's white, both unbent as the measurer unbends them: set on
 * rendered riders of tuning seeds, where silver beside which orange looked fluorescent came to 0.57, and to 0.64 where it
 * nearly did.
 */
const LEAST_OF_WHITE = 0.65;
/** One picture may be a glint or a plate in another light. */
const LEAST_PICTURES = 2;
/** Of the pictures that can tell, at least this share must say so. */
const LEAST_AGREEING = 0.75;

/** Less of a paint may be the leathers' where they are taken for the bike, or the other way round. */
const LEAST_SHARE = 0.2;

const unbent = (level: number): number => level / (1.03 - Math.min(1, level));

/** How bright white is, by session; none where too few were seen. */
export function whitesOf(seen: readonly SeenInSession[]): ReadonlyMap<number, number> {
  const levels = new Map<number, number[]>();
  for (const { subject, session } of seen) {
    if (subject.whiteLevel === undefined) continue;
    const own = levels.get(session);
    if (own) own.push(subject.whiteLevel);
    else levels.set(session, [subject.whiteLevel]);
  }
  const known = [...levels].filter(([, own]) => own.length >= LEAST_BIKES);
  return new Map(
    known.map(([session, own]) => [session, own.sort((a, b) => a - b)[Math.floor(DARKER_THAN_WHITE * own.length)]!]),
  );
}

/** The fluorescent hue of a part of one rider; null where nobody can be sure. */
export function fluorescentHueOn(
  part: SubjectPart,
  seen: readonly SeenInSession[],
  whites: ReadonlyMap<number, number>,
): BesideWhite['hue'] | null {
  const trusted = seen.flatMap(({ subject, session }) => {
    const white = whites.get(session);
    return (subject.besideWhite ?? []).filter(
      (one) => one.on === part && white !== undefined && unbent(one.white) >= LEAST_OF_WHITE * unbent(white),
    );
  });
  const told = HUES.map((hue) => placesSaying(trusted.filter((one) => one.hue === hue)));
  const most = Math.max(...told);
  return most === 0 ? null : HUES[told.indexOf(most)]!;
}

const HUES = ['yellow', 'orange', 'red'] as const;

/** Places of one hue where it is fluorescent; none where the pictures do not agree. A picture speaks of each hue once. */
function placesSaying(pictures: readonly BesideWhite[]): number {
  const sayingSo = pictures.filter(({ hue, ratio }) => isFluorescent(hue, ratio));
  const isSaid = sayingSo.length >= LEAST_PICTURES && sayingSo.length >= LEAST_AGREEING * pictures.length;
  return isSaid ? sayingSo.reduce((sum, { pairs }) => sum + pairs, 0) : 0;
}

/** The paint that was said under its ordinary names, under its fluorescent one. Where little of them was seen all stays. */
export function withFluorescent(
  colours: readonly ColourShare[],
  hue: BesideWhite['hue'] | null,
): readonly ColourShare[] {
  if (hue === null) return colours;
  const name = fluorescent(hue);
  const ordinary: readonly ColourName[] = ordinaryOf(name)!;
  const own = colours.filter((colour) => ordinary.includes(colour.name));
  const share = own.reduce((sum, colour) => sum + colour.share, 0);
  if (share < LEAST_SHARE) return colours;
  const rest = colours.filter((colour) => !ordinary.includes(colour.name));
  return [{ name, share, lab: own[0]!.lab }, ...rest].sort((a, b) => b.share - a.share);
}
