/** Names a fill's files take on a destination. Everything is kept as on the card unless a manifest could not hold it. */

/** XML 1.0 has no way to write these, not even escaped; a manifest must be able to name every file. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is looked for
const unwritable = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/g;
/** A per cent sign that would read as one of the above; escaped too, so that two names never become one. */
const mistakable = /%(?=(?:25)*(?:0[0-8bcef]|1[0-9a-f]|fff[ef]))/g;

/** The path under which a card's file is kept. Differs from the card's only in characters no manifest can hold. */
export function pathOnDisk(cardPath: string): string {
  return cardPath
    .replace(mistakable, '%25')
    .replace(unwritable, (character) => `%${character.charCodeAt(0).toString(16).padStart(2, '0')}`);
}

/**
 * Where the second file of one name is kept: `DCIM/100ABCDE/kept-2/ABCD0001.JPG`. The file's own name stays whole, for
 * its number is needed; a sub-directory of a DCF directory cannot be the card's own, DCF allows none.
 */
export function keptBeside(path: string, nth: number): string {
  const cut = path.lastIndexOf('/') + 1;
  return `${path.slice(0, cut)}kept-${nth}/${path.slice(cut)}`;
}

/** The path a file had on its card, whichever of several of one name it is. */
export function pathOnCard(path: string): string {
  return path.replace(/(^|\/)kept-\d+\/([^/]+)$/, '$1$2');
}

/** Hidden name of a copy that is not finished yet; never a name a camera makes. */
export const partPrefix = '.tyrewall-part-';
export const isPartName = (name: string): boolean => name.startsWith(partPrefix);

/** Folder of a new fill under `cards/`: the card's label for the eye, eight digits of its id to keep fills apart. */
export function fillFolderName(label: string, id: string): string {
  const plain = label
    .normalize('NFKD')
    .replace(/[^0-9A-Za-z_-]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 24);
  return `${plain === '' ? 'card' : plain}-${id.slice(0, 8)}`;
}
