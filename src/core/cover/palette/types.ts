/** What a group is made of, to know in the morning which riders will be hard to tell apart. */
import type { RiderKey } from '../../ids.js';
import type { ColourName } from '../../measure/types.js';
import type { Share } from '../../numeric/wilson.js';

export interface ColourOfField {
  readonly colour: ColourName;
  /** Those on whom it is the largest. */
  readonly riders: readonly RiderKey[];
  /** Of the group's riders whose colours are measured; the range is of those to come, seen so few. */
  readonly share: Share;
}

export interface AlikeRiders {
  readonly riders: readonly RiderKey[];
  /** What they have in common, as the first of them is called. */
  readonly livery: string;
  readonly sentence: string;
}

/** A guess all of it: riders are found, not counted. */
export interface GroupPalette {
  readonly group: string;
  /** Seen in the sessions looked at. */
  readonly riders: number;
  /** `N1`; the group's first, and its sighting laps where they are one. */
  readonly sessions: readonly string[];
  /** Largest first. */
  readonly bikes: readonly ColourOfField[];
  readonly leathers: readonly ColourOfField[];
  readonly alike: readonly AlikeRiders[];
  /** Told in the same words though the pictures tell them apart: beside the track only the words are there. */
  readonly sameWords: readonly AlikeRiders[];
  readonly sentences: readonly string[];
}
