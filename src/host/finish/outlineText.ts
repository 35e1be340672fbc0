/**
 * A line of text as one SVG path, drawn from the outlines of the Archivo font in the package
 * `@fontsource-variable/archivo` (OFL-1.1), so that no font need be installed on the machine.
 */
import { createRequire } from 'node:module';
import { type Font, openSync } from 'fontkit';

const require = createRequire(import.meta.url);
/** Latin first, then the extended letters; each file holds the family's default weight of 600. */
const FILES = ['latin', 'latin-ext', 'vietnamese'].map(
  (subset) => `@fontsource-variable/archivo/files/archivo-${subset}-standard-normal.woff2`,
);

/** A path in a box of `width` × `height` font units, y down. `missing` lists characters no file can draw. */
export interface OutlinedText {
  readonly path: string;
  readonly width: number;
  readonly height: number;
  readonly missing: readonly string[];
}

let fonts: readonly Font[] | undefined;

function openFonts(): readonly Font[] {
  // fontkit answers a file of several fonts with a collection; these files hold one font each.
  fonts ??= FILES.map((file) => openSync(require.resolve(file)) as Font);
  return fonts;
}

/** Characters no font can draw are left out and named; a text with none left is an empty path of no width. */
export function outlineText(text: string): OutlinedText {
  const [main] = openFonts();
  const runs = runsOf(text.normalize('NFC'));
  let x = 0;
  const paths: string[] = [];
  for (const { font, text: part } of runs.drawable) {
    const scale = main!.unitsPerEm / font.unitsPerEm;
    const run = font.layout(part);
    for (const [i, glyph] of run.glyphs.entries()) {
      paths.push(glyph.path.scale(scale, -scale).translate(x, main!.ascent).toSVG());
      x += run.positions[i]!.xAdvance * scale;
    }
  }
  return { path: paths.join(''), width: x, height: main!.ascent - main!.descent, missing: runs.missing };
}

/** Splits a text into runs that one font can draw. */
function runsOf(text: string): { drawable: readonly { font: Font; text: string }[]; missing: readonly string[] } {
  const drawable: { font: Font; text: string }[] = [];
  const missing: string[] = [];
  for (const character of text) {
    const font = openFonts().find((one) => one.hasGlyphForCodePoint(character.codePointAt(0)!));
    const last = drawable.at(-1);
    if (!font) missing.push(character);
    else if (last?.font === font) last.text += character;
    else drawable.push({ font, text: character });
  }
  return { drawable, missing };
}
