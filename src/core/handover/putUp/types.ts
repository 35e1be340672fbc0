/** Putting up: what lies at a place, what should lie there, and the steps between, in order. */

/** A file of the gallery as it was made, before it has a name at the place. `path` is from the gallery's root. */
export interface MadeFile {
  readonly path: string;
  readonly bytes: number;
  /** SHA-256 of its content, in hex. */
  readonly tag: string;
  /** Of pages, styles, scripts and their data; null where its bytes go up as they are. */
  readonly text: string | null;
}

/** Length and SHA-256 of a text in UTF-8; core hashes nothing itself. */
export type Weigh = (text: string) => { readonly bytes: number; readonly tag: string };

/** A page keeps its address. What is named by content is never another file under the same name. */
export type Role = 'entry' | 'page' | 'kept' | 'byContent';

export interface EditionFile {
  /** At the place, from the edition's root. */
  readonly path: string;
  readonly role: Role;
  readonly bytes: number;
  readonly tag: string;
  /** The made file whose bytes go up, or the text that goes up in its stead. */
  readonly from: { readonly kind: 'made'; readonly path: string } | { readonly kind: 'text'; readonly text: string };
  /** Files of the edition it shows or links to. */
  readonly leadsTo: readonly string[];
  /** Public ids a page names: known again when one is taken down. */
  readonly names: readonly string[];
}

/** Everything that should lie at the place. */
export interface Edition {
  readonly files: readonly EditionFile[];
}

/** What a place says of a file that lies there. `stamp` changes whenever the file does: an ETag, or size and time. */
export interface PlacedFile {
  readonly path: string;
  readonly bytes: number;
  readonly stamp: string;
}

/** What was put there by us, noted when the place had taken it. */
export interface Note extends PlacedFile {
  readonly tag: string;
  readonly names: readonly string[];
}

export type Step =
  | { readonly kind: 'put'; readonly file: EditionFile; readonly isNew: boolean }
  /** A page that lies there loses the lines that name what was taken down. */
  | { readonly kind: 'clean'; readonly path: string }
  | { readonly kind: 'remove'; readonly path: string; readonly why: 'withdrawn' | 'superseded' | 'unfinished' };

/** Steps of one part may be done in any order and beside each other; a part begins when the one before has ended. */
export interface Part {
  readonly name:
    | 'links to withdrawn'
    | 'withdrawn'
    | 'unfinished'
    | 'first pictures'
    | 'first pages'
    | 'first entry'
    | 'pictures'
    | 'new pages'
    | 'changed pages'
    | 'entry'
    | 'superseded';
  readonly steps: readonly Step[];
}

export interface PutUpPlan {
  readonly parts: readonly Part[];
  /** Files that lie there as they should. */
  readonly standing: number;
  /** Files that lie there and are not ours; they stay. */
  readonly strangers: readonly string[];
}
