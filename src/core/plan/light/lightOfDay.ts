/**
 * The light of one day at all spots, asked by the clock on the wall: for the day's solver, the run sheet and the pocket.
 * The sun is worked out once a minute and once for all spots.
 */
import type { SpotId } from '../../ids.js';
import type { SunPlace } from '../../numeric/solar.js';
import { epochOfWall } from '../../numeric/wallTime.js';
import { type EpochMs, epochMsOf, type UnitInterval, type WallMs } from '../../units.js';
import type { SpotView } from '../circuit/types.js';
import { lightOf } from './lightAt.js';
import { lightRow, skyAt, sunRow, sunTrack } from './rows.js';
import type { LightRow, Sky, SkySpan, SpotLight, SunRow } from './types.js';
import { lightWords } from './words.js';
import { worthOfLight } from './worth.js';

export interface DayAsked {
  /** Spots that see the line. */
  readonly views: readonly SpotView[];
  /** Of the circuit: two kilometres are a fiftieth of a degree. */
  readonly place: SunPlace;
  /** IANA. */
  readonly zone: string;
  readonly from: WallMs;
  readonly to: WallMs;
  /** What a person said of the sky, in the order in which it was said. */
  readonly skies: readonly { readonly from: WallMs; readonly to: WallMs; readonly is: Sky }[];
}

export interface LightOfDay {
  readonly lightRows: readonly LightRow[];
  readonly sunRows: readonly SunRow[];
  /** Null: not one of the spots, or not of this day. */
  lightAt(spot: SpotId, at: WallMs): SpotLight | null;
  /** For the solver; of an unknown spot nothing is worth anything. */
  shareAt(spot: SpotId, at: WallMs): { readonly share: UnitInterval; readonly words: string };
  /** For a stay: `side, then front`. Null as above. */
  wordsOver(spot: SpotId, from: WallMs, to: WallMs): string | null;
}

const NO_LIGHT = { share: 0 as UnitInterval, words: 'nothing known of the light here' } as const;

export const lightOfDay = ({ views, place, zone, from, to, skies: said }: DayAsked): LightOfDay => {
  const instantOf = (wall: WallMs): EpochMs => epochOfWall(wall, zone);
  const track = sunTrack(place, instantOf(from), instantOf(to));
  const skies: readonly SkySpan[] = said.map((sky) => ({
    from: instantOf(sky.from),
    to: instantOf(sky.to),
    is: sky.is,
  }));
  const byId = new Map(views.map((view) => [view.spot.id, view]));
  const lightAt = (spot: SpotId, at: WallMs): SpotLight | null => {
    const view = byId.get(spot);
    const minute = Math.floor((instantOf(at) - track.from) / track.stepMs);
    const sun = track.positions[minute];
    if (view === undefined || sun === undefined) return null;
    return lightOf(view, sun, skyAt(skies, epochMsOf(track.from + minute * track.stepMs)) ?? 'clear');
  };
  return {
    lightRows: views.map((view) => lightRow(view, track, skies)),
    sunRows: views.map((view) => sunRow(view, track, skies)),
    lightAt,
    shareAt: (spot, at) => {
      const light = lightAt(spot, at);
      return light === null ? NO_LIGHT : { share: worthOfLight(light), words: `light ${lightWords(light).short}` };
    },
    wordsOver: (spot, start, end) => {
      const [first, last] = [lightAt(spot, start), lightAt(spot, end)];
      if (first === null || last === null) return null;
      const [before, after] = [lightWords(first).short, lightWords(last).short];
      return before === after ? before : `${before}, then ${after}`;
    },
  };
};
