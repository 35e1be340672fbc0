/** What the finder adds to the first page, hidden until its script runs; and where it finds the index. */
import { xml } from '../../core/finish/index.js';
import { type FindFacet, plainKey } from '../../core/handover/find/index.js';
import type { GalleryRider } from '../../core/handover/types.js';
import type { ColourName } from '../../core/measure/types.js';
import { cardsOf, slugOf } from '../card.js';
import { rootOf, type Site } from '../html.js';
import { wordsOf } from '../words/index.js';
import { CARDS_A_FILE } from './cardsAFile.js';
import { finderWords } from './words.js';

/** Folder of the index, from the gallery's root. */
export const FIND_FOLDER = 'find/';

/** What may be asked of this gallery beyond what its pages list. */
export interface Findable {
  /** Changes with the index, so that a phone asks for no file of an older one. */
  readonly mark: string;
  readonly classes: readonly string[];
  readonly hasNames: boolean;
}

export function finderPart(site: Site, findable: Findable): string {
  const { gallery, tongue } = site;
  const own = finderWords[tongue.language];
  const root = rootOf(site, 'index.html');
  const leathers = leathersOf(gallery.riders);
  const words = {
    fit: wordsOf[tongue.language].messages.ridersFit,
    moreNear: own.moreNear,
    nobody: own.nobody,
    near: own.near,
    notFetched: own.notFetched,
    noSignal: own.noSignal,
    below: own.below,
    riders: wordsOf[tongue.language].messages.ridersCounted,
    showMore: own.showMore,
  };
  const data = [
    `data-index="${root}${FIND_FOLDER}"`,
    `data-cards="cards-${tongue.language}-{n}.txt"`,
    `data-mark="${findable.mark}"`,
    `data-words="${xml(JSON.stringify(words))}"`,
  ].join(' ');
  const rows = [
    choice(
      own,
      'leathers',
      own.leathers,
      leathers.map((colour) => [slugOf(colour), tongue.colour(colour)]),
    ),
    choice(
      own,
      'spot',
      own.spot,
      gallery.spots.map(({ name, number }) => [String(number), name]),
    ),
    gallery.sessions.length === 0 ? '' : field('time', own.about, 'type="time"'),
    choice(
      own,
      'class',
      own.class,
      findable.classes.map((name) => [plainKey(name), name]),
    ),
    findable.hasNames ? field('word', own.name, 'autocomplete="name"') : '',
  ];
  const fields = rows.filter((row) => row !== '').join('\n');
  const folded =
    fields === ''
      ? ''
      : `<details class="fold"><summary>${xml(own.more)}</summary>\n<div class="form">\n${fields}\n</div></details>`;
  return `<div id="finder" hidden ${data}>${folded}</div>`;
}

const leathersOf = (riders: readonly GalleryRider[]): readonly ColourName[] =>
  [...new Set(riders.flatMap(({ look }) => look.leathers ?? []))].sort();

const field = (facet: FindFacet, label: string, how: string): string =>
  `<p><label for="by-${facet}">${xml(label)}</label><input id="by-${facet}" data-find="${facet}" ${how}></p>`;

/** One thing to choose is none. */
function choice(
  { any }: { readonly any: string },
  facet: FindFacet,
  label: string,
  options: readonly (readonly [value: string, said: string])[],
): string {
  if (options.length < 2) return '';
  const items = options.map(([value, said]) => `<option value="${xml(value)}">${xml(said)}</option>`);
  return `<p><label for="by-${facet}">${xml(label)}</label><select id="by-${facet}" data-find="${facet}"><option value="">${xml(any)}</option>${items.join('')}</select></p>`;
}

/** Cards of riders who stand on no first page, a dozen a file; their addresses are those of the first page. */
export function cardFiles(site: Site): ReadonlyMap<string, string> {
  const files = new Map<string, string>();
  const { riders } = site.gallery;
  for (let n = 0; n * CARDS_A_FILE < riders.length; n++) {
    const some = riders.slice(n * CARDS_A_FILE, (n + 1) * CARDS_A_FILE);
    files.set(`cards-${site.tongue.language}-${n}.txt`, cardsOf(site, some, 'index.html'));
  }
  return files;
}
