/** The gallery in each of its languages. */
import { USUAL_DAYS } from '../core/handover/law/index.js';
import type { Gallery } from '../core/handover/types.js';
import type { Findable } from './finder/finderPart.js';
import type { Shop, Site, Style } from './html.js';
import { LANGUAGES, type Language, tongueOf } from './words/index.js';

export interface PagesWish {
  /** The photographer's own, whose pages lie at the root; the others lie in folders of their own. */
  readonly language?: Language;
  readonly shop?: Shop | null;
  readonly findable?: Findable;
  readonly style?: Style;
  /** How long galleries are kept, for the privacy notice. */
  readonly keptDays?: number;
}

/** The photographer's own language first. */
export function sitesOf(gallery: Gallery, wish: PagesWish): readonly Site[] {
  const { language: home = 'en', shop = null, findable, style, keptDays = USUAL_DAYS.galleries } = wish;
  const more = { ...(findable && { findable }), ...(style && { style }) };
  return [home, ...LANGUAGES.filter((one) => one !== home)].map((one) => ({
    gallery,
    tongue: tongueOf(one, home),
    home,
    shop,
    keptDays,
    ...more,
  }));
}
